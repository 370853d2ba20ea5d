package stillwatch.alerts.journal;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;

/**
 * The database everything about alarms is written to before anybody is told. Safe from any thread.
 */
public final class Journal implements AutoCloseable {
  private static final String COLUMNS = "seq, written_ms, well, what, subject, by_whom, body, hash";

  private static final int PATIENCE_MS = 10_000;

  /** H2's code for a database file that was closed under a connection (ErrorCode). */
  private static final int CLOSED = 90098;

  private final HikariDataSource pool;

  private Journal(HikariDataSource pool) {
    this.pool = pool;
  }

  /** Work inside a transaction. */
  public interface Work<T> {
    /** Does it; whatever it throws rolls everything back. */
    T on(Connection connection) throws SQLException;
  }

  /**
   * The JDBC URL of a journal in one file of this folder; a commit is on its way to the disk when
   * it returns.
   */
  public static String fileUrl(Path folder) {
    return "jdbc:h2:file:"
        + folder.toAbsolutePath().resolve("journal")
        + ";FILE_LOCK=FS;WRITE_DELAY=0;DB_CLOSE_ON_EXIT=FALSE";
  }

  /**
   * Opens a journal and brings its tables up to date.
   *
   * @param url a JDBC URL of H2 or PostgreSQL
   * @param user the database user; empty where the URL says it
   * @param password its password
   * @throws JournalException when it cannot be opened
   */
  public static Journal open(String url, String user, String password) {
    HikariConfig config = new HikariConfig();
    config.setJdbcUrl(url);
    config.setUsername(user);
    config.setPassword(password);
    config.setAutoCommit(false);
    config.setMaximumPoolSize(6);
    config.setMinimumIdle(1);
    config.setInitializationFailTimeout(10_000);
    config.setConnectionTimeout(PATIENCE_MS);
    if (url.startsWith("jdbc:postgresql:")) { // a server that is cut off must not hold the desk up
      config.addDataSourceProperty("socketTimeout", Integer.toString(PATIENCE_MS / 1000));
      config.addDataSourceProperty("connectTimeout", Integer.toString(PATIENCE_MS / 1000));
    }
    config.setPoolName("journal");
    HikariDataSource pool;
    try {
      pool = new HikariDataSource(config);
    } catch (RuntimeException e) {
      throw new JournalException(
          "the journal cannot be opened: "
              + root(e)
              + "; check that no other watch has it open, its address, user and password",
          e);
    }
    try {
      Flyway.configure()
          .dataSource(pool)
          .locations("classpath:stillwatch/journal")
          .load()
          .migrate();
    } catch (FlywayException e) {
      pool.close();
      throw new JournalException(
          "the journal's tables cannot be brought up to date: " + root(e), e);
    }
    return new Journal(pool);
  }

  private static String root(Throwable e) {
    Throwable at = e;
    for (Throwable c = at.getCause(); c != null; c = c.getCause()) {
      at = c;
    }
    return String.valueOf(at.getMessage()).lines().findFirst().orElse(at.toString());
  }

  /**
   * Runs work in one transaction.
   *
   * @throws JournalException when the database refuses; nothing of the work is kept
   */
  public <T> T transaction(Work<T> work) {
    try (Connection c = pool.getConnection()) {
      try {
        T result = work.on(c);
        c.commit();
        return result;
      } catch (SQLException | RuntimeException e) {
        undo(c, e);
        if (e instanceof SQLException fault && fault.getErrorCode() == CLOSED) {
          pool.evictConnection(c); // a full disk closed the file; a new connection opens it again
        }
        throw e;
      }
    } catch (SQLException e) {
      throw new JournalException(
          gone(e)
              ? "the journal's database does not answer"
              : "the journal refused: " + e.getMessage(),
          e);
    }
  }

  /** Whether no connection was to be had, or it broke (SQLSTATE class 08). */
  private static boolean gone(SQLException e) {
    String state = e.getSQLState();
    return e instanceof SQLTransientConnectionException
        || (state != null && state.startsWith("08"));
  }

  private static void undo(Connection c, Exception why) {
    try {
      c.rollback();
    } catch (SQLException e) { // a connection that is gone keeps nothing
      why.addSuppressed(e);
    }
  }

  /** Work inside a transaction that adds to the record. */
  public interface Writing<T> {
    /** Does it; whatever it throws rolls everything back. */
    T with(Recorder recorder) throws SQLException;
  }

  /**
   * Runs work in one transaction that may add to the record.
   *
   * @throws JournalException when the database refuses; nothing of the work is kept
   */
  public <T> T write(Writing<T> work) {
    return transaction(
        c -> {
          Recorder recorder = new Recorder(c);
          T result = work.with(recorder);
          recorder.end();
          return result;
        });
  }

  /** Tells every entry, oldest first. */
  public void entries(Consumer<Entry> each) {
    entries("select " + COLUMNS + " from entry order by seq", s -> {}, each);
  }

  /** Tells the entries of a well that say one of these, oldest first. */
  public void entries(String well, List<String> what, Consumer<Entry> each) {
    entries(
        "select "
            + COLUMNS
            + " from entry where well = ? and what in ("
            + String.join(", ", Collections.nCopies(what.size(), "?"))
            + ") order by seq",
        s -> {
          s.setString(1, well);
          for (int i = 0; i < what.size(); i++) {
            s.setString(2 + i, what.get(i));
          }
        },
        each);
  }

  private interface Filling {
    void fill(PreparedStatement s) throws SQLException;
  }

  private void entries(String sql, Filling filling, Consumer<Entry> each) {
    Boolean unused =
        transaction(
            c -> {
              try (PreparedStatement s = c.prepareStatement(sql)) {
                s.setFetchSize(500);
                filling.fill(s);
                try (ResultSet r = s.executeQuery()) {
                  while (r.next()) {
                    each.accept(
                        new Entry(
                            r.getLong(1),
                            r.getLong(2),
                            r.getString(3),
                            r.getString(4),
                            r.getString(5),
                            r.getString(6),
                            r.getString(7),
                            r.getString(8)));
                  }
                }
              }
              return true;
            });
  }

  /** The number and hash of the newest entry. */
  public Head head() {
    return transaction(
        c -> {
          try (PreparedStatement s = c.prepareStatement("select seq, hash from head where id = 1");
              ResultSet r = s.executeQuery()) {
            return r.next()
                ? new Head(r.getLong(1), r.getString(2))
                : new Head(0, Entry.NOTHING_BEFORE);
          }
        });
  }

  /** The end of the record: its newest entry's number and hash. */
  public record Head(long seq, String hash) {}

  /** For each partition of the topic taken in so far, the offset to go on with. */
  public Map<Integer, Long> inbox(String topic) {
    return transaction(
        c -> {
          Map<Integer, Long> next = new HashMap<>();
          try (PreparedStatement s =
              c.prepareStatement("select partition_no, next_offset from inbox where topic = ?")) {
            s.setString(1, topic);
            try (ResultSet r = s.executeQuery()) {
              while (r.next()) {
                next.put(r.getInt(1), r.getLong(2));
              }
            }
          }
          return next;
        });
  }

  /** Notes how far a partition has been taken in. */
  public static void takenIn(Connection c, String topic, int partition, long nextOffset)
      throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement(
            "update inbox set next_offset = ? where topic = ? and partition_no = ?")) {
      s.setLong(1, nextOffset);
      s.setString(2, topic);
      s.setInt(3, partition);
      if (s.executeUpdate() > 0) {
        return;
      }
    }
    try (PreparedStatement s =
        c.prepareStatement(
            "insert into inbox (topic, partition_no, next_offset) values (?, ?, ?)")) {
      s.setString(1, topic);
      s.setInt(2, partition);
      s.setLong(3, nextOffset);
      s.executeUpdate();
    }
  }

  @Override
  public void close() {
    pool.close();
  }
}
