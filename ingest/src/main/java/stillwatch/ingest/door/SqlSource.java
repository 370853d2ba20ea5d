package stillwatch.ingest.door;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Properties;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.Piece;
import stillwatch.ingest.recording.RecordingException;
import stillwatch.ingest.recording.RecordingLayout;

/**
 * Takes readings from the rows of a database, in the order of their times, from the newest one that
 * was taken on and as much earlier as the plan says. Which rows were is noted on disk once they are
 * kept, so what a killed process had not noted comes again, and is known by {@link Inlet}.
 */
final class SqlSource implements Source {
  /** Fewer than {@link stillwatch.ingest.intake.Resent} remembers. */
  private static final int PAGE_ROWS = 2000;

  private static final int CONNECT_S = 10;
  private static final int ANSWER_S = 60;

  private final SqlPlan plan;
  private final Inlet inlet;
  private final Attempts attempts;
  private volatile @Nullable Connection open;

  SqlSource(SqlPlan plan, Inlet inlet) {
    this.plan = plan;
    this.inlet = inlet;
    attempts = new Attempts(inlet);
  }

  @Override
  public void run() {
    Path file = inlet.folder().resolve(inlet.name() + ".rows");
    try (TakenRows taken = TakenRows.open(file, plan.from().toEpochMilli(), plan.lookBack())) {
      attempts.run(() -> once(taken));
    } catch (IOException e) {
      throw new UncheckedIOException(
          "how far rows were read cannot be kept in " + file + ": " + e.getMessage(), e);
    }
  }

  private boolean once(TakenRows taken) throws InterruptedException {
    boolean there = false;
    try (Connection database = connect()) {
      open = database;
      while (!attempts.closed()) {
        look(database, taken);
        there = true;
        attempts.pause(plan.every().toMillis());
      }
    } catch (SQLException e) {
      attempts.lost(SqlFault.why(e, plan));
    } catch (RecordingException | IOException e) {
      attempts.lost(String.valueOf(e.getMessage()).replace("\n", "; "));
    }
    return there;
  }

  private Connection connect() throws SQLException, IOException {
    Properties settings = new Properties();
    String user = plan.user();
    Path password = plan.password();
    if (user != null) {
      settings.setProperty("user", user);
    }
    if (password != null) {
      settings.setProperty("password", PasswordFile.read(password));
    }
    if (plan.url().startsWith("jdbc:postgresql:")) {
      settings.setProperty("ApplicationName", "stillwatch");
      settings.setProperty("connectTimeout", String.valueOf(CONNECT_S));
      settings.setProperty("loginTimeout", String.valueOf(CONNECT_S));
      settings.setProperty("socketTimeout", String.valueOf(ANSWER_S));
    }
    Connection database = DriverManager.getConnection(plan.url(), settings);
    database.setReadOnly(true);
    database.setAutoCommit(false); // so that the rows come page by page
    return database;
  }

  /** Takes every row that is there and has not been taken. */
  private void look(Connection database, TakenRows taken)
      throws SQLException, IOException, InterruptedException {
    try (PreparedStatement query = database.prepareStatement(plan.query())) {
      query.setFetchSize(PAGE_ROWS);
      query.setQueryTimeout(ANSWER_S);
      SqlRows rows = new SqlRows(query.getMetaData(), inlet.name(), plan.layout());
      List<RecordingLayout.Column> lacking = Piece.lacking(rows.header(), rows.layout());
      boolean some = lacking.size() < rows.layout().columns().size();
      RecordingLayout fitting = some ? rows.layout().without(lacking) : rows.layout();
      read(rows, new byte[0], fitting); // so that what its header lacks is told without a row
      rows.ask(query, taken.wantedFromMs());
      try (ResultSet answer = query.executeQuery()) {
        inlet.health().connected(some ? lacks(lacking) : List.of());
        for (List<TakenRows.Row> page = page(rows, answer, 0);
            !page.isEmpty() && !attempts.closed();
            page = page(rows, answer, page.get(page.size() - 1).atMs())) {
          take(page, rows, fitting, taken);
        }
      }
    }
    database.rollback(); // the next look sees what has come since
  }

  private static List<String> lacks(List<RecordingLayout.Column> lacking) {
    return lacking.stream()
        .map(
            c ->
                "the query gives no column '"
                    + c.header()
                    + "' of "
                    + c.gauge()
                    + "; correct the query or the layout in the plan")
        .toList();
  }

  private static List<TakenRows.Row> page(SqlRows rows, ResultSet answer, long afterMs)
      throws SQLException, IOException {
    List<TakenRows.Row> page = new ArrayList<>();
    long lastMs = afterMs;
    while (page.size() < PAGE_ROWS && answer.next()) {
      TakenRows.Row row = rows.row(answer);
      if (row.atMs() < lastMs) {
        throw new IOException(
            "the query does not give its rows in the order of their times; correct its ORDER BY in the plan");
      }
      lastMs = row.atMs();
      page.add(row);
    }
    return page;
  }

  private PieceTaking read(SqlRows rows, byte[] lines, RecordingLayout layout) throws IOException {
    Piece piece = new Piece(Path.of(inlet.name()), rows.header(), lines, 1);
    PieceTaking taking = new PieceTaking(piece, layout, inlet);
    piece.read(layout, taking);
    return taking;
  }

  /** Notes the new ones among them once they are kept, the refused among the rejects. */
  private void take(List<TakenRows.Row> page, SqlRows rows, RecordingLayout layout, TakenRows taken)
      throws IOException, InterruptedException {
    List<TakenRows.Row> fresh = page.stream().filter(row -> !taken.has(row)).distinct().toList();
    if (!fresh.isEmpty()) {
      byte[] lines =
          fresh.stream()
              .map(row -> row.text() + "\n")
              .collect(Collectors.joining())
              .getBytes(StandardCharsets.UTF_8);
      Kept.all(List.of(read(rows, lines, layout).kept()));
    }
    long nowMs = inlet.nowMs(); // a row of a clock that is ahead must not hide what comes after it
    long newestMs =
        page.stream().mapToLong(TakenRows.Row::atMs).filter(at -> at <= nowMs).max().orElse(0);
    taken.add(fresh, newestMs);
  }

  @Override
  public void close() {
    attempts.close();
    Connection database = open;
    if (database != null) {
      try {
        database.abort(Runnable::run); // it may be waiting for an answer
      } catch (SQLException e) {
        // it is lost already
      }
    }
  }
}
