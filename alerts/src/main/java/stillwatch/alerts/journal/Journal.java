package stillwatch.alerts.journal;

import com.zaxxer.hikari.HikariDataSource;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Consumer;
import java.util.function.LongSupplier;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.flywaydb.core.api.MigrationInfo;
import org.flywaydb.core.api.MigrationInfoService;
import org.flywaydb.core.api.MigrationState;

/**
 * The database everything about alarms is written to before anybody is told. Safe from any thread.
 */
public final class Journal implements AutoCloseable {
  /**
   * Room in the file is not used again while it is open: where H2 2.5 does so, it does not find the
   * newest commits again in the file of a process that was killed.
   */
  private static final String APPENDS = ";REUSE_SPACE=FALSE";

  /** H2's code for a database file that was closed under a connection (ErrorCode). */
  private static final int CLOSED = 90098;

  private final HikariDataSource pool;
  private final boolean file;
  private final Map<String, Table> tables;

  /**
   * Held by who writes to the file. H2 stores its maps one after another while others may write
   * (h2database issue 2080), so that a process killed after it left half of a transaction behind.
   */
  private final ReentrantLock pen = new ReentrantLock(true);

  private volatile LongSupplier logMs = () -> 0;

  private Journal(HikariDataSource pool, boolean file, Map<String, Table> tables) {
    this.pool = pool;
    this.file = file;
    this.tables = tables;
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
  static String fileUrl(Path folder) {
    return "jdbc:h2:file:"
        + folder.toAbsolutePath().resolve("journal")
        + ";FILE_LOCK=FS"
        + APPENDS
        + ";WRITE_DELAY=0;DB_CLOSE_ON_EXIT=FALSE;TRACE_LEVEL_FILE=0;LOCK_TIMEOUT="
        + JournalPool.PATIENCE_MS;
  }

  /**
   * Opens a journal in one file of this folder; only the user who runs this can read it.
   *
   * @throws JournalException when it cannot be opened
   */
  public static Journal inFolder(Path folder) {
    return open(fileOf(folder), "stillwatch", "");
  }

  private static String fileOf(Path folder) {
    try {
      PrivateFiles.folder(folder);
      PrivateFiles.file(folder.resolve("journal.mv.db"));
    } catch (IOException e) {
      throw new JournalException(
          "the journal cannot be kept in " + folder + ": " + e.getMessage(), e);
    }
    return fileUrl(folder);
  }

  /**
   * Opens the journal that there is in this folder.
   *
   * @throws JournalException when it cannot be opened, or holds no record
   */
  public static Journal existingIn(Path folder) {
    return existing(fileOf(folder), "stillwatch", "");
  }

  /**
   * Opens a journal that was written before.
   *
   * @throws JournalException when it cannot be opened, or holds no record
   */
  public static Journal existing(String url, String user, String password) {
    return open(url, user, password, Journal::refuseEmpty);
  }

  /**
   * Opens a journal and brings its tables up to date.
   *
   * @param url a JDBC URL of H2 or PostgreSQL
   * @param user the database user; empty where the URL says it
   * @param password its password
   * @throws JournalException when it cannot be opened, or a newer version has written it
   */
  public static Journal open(String url, String user, String password) {
    return open(url, user, password, tables -> {});
  }

  private static Journal open(
      String url, String user, String password, Consumer<MigrationInfoService> check) {
    HikariDataSource pool = JournalPool.of(url, user, password);
    try {
      Flyway flyway = scripts(pool);
      refuseNewer(flyway.info());
      check.accept(flyway.info());
      flyway.migrate();
      Journal journal = new Journal(pool, url.startsWith("jdbc:h2:"), tables(pool));
      journal.vouch(String.valueOf(flyway.info().current().getVersion()));
      return journal;
    } catch (FlywayException e) {
      pool.close();
      throw new JournalException(
          "the journal's tables cannot be brought up to date, by table flyway_schema_history: "
              + JournalPool.root(e),
          e);
    } catch (SQLException | JournalException e) {
      pool.close();
      throw new JournalException(
          "the journal's tables cannot be brought up to date: " + JournalPool.root(e), e);
    }
  }

  private static Flyway scripts(HikariDataSource pool) {
    return Flyway.configure()
        .dataSource(pool)
        .locations("classpath:stillwatch/journal")
        .validateOnMigrate(false) // what was made by an older form of a script stays
        .load();
  }

  /** A new journal made here would be whole, and say nothing of the one that was lost. */
  private static void refuseEmpty(MigrationInfoService tables) {
    if (tables.current() == null) {
      throw new FlywayException(
          "there are none: this is no journal, or it was emptied; put back a copy of it");
    }
  }

  /** What this version does not know it would not vouch for. */
  private static void refuseNewer(MigrationInfoService tables) {
    for (MigrationInfo made : tables.applied()) {
      if (made.getState() == MigrationState.FUTURE_SUCCESS) {
        throw new FlywayException(
            "a newer Stillwatch has written them (version "
                + made.getVersion()
                + "); start that one, or put back the copy that was made before it");
      }
    }
  }

  private static Map<String, Table> tables(HikariDataSource pool) throws SQLException {
    try (Connection c = pool.getConnection()) {
      Map<String, Table> all = Table.all(c);
      c.rollback();
      return all;
    }
  }

  /**
   * Has the record vouch for every row, once after the tables were brought to a version: from then
   * on no row changes without an entry.
   */
  private void vouch(String version) {
    if (!transaction(c -> EntryTable.has(c, Rows.UPGRADED, version))) {
      write(
          System.currentTimeMillis(),
          record ->
              record.enter(
                  "",
                  Rows.UPGRADED,
                  version,
                  "",
                  Rows.everything(record.connection(), tables.values())));
    }
  }

  /**
   * Runs work in one transaction that only reads.
   *
   * @throws JournalException when the database refuses
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
      throw refused(e);
    }
  }

  private static JournalException refused(SQLException e) {
    return new JournalException(
        gone(e)
            ? "the journal's database does not answer"
            : "the journal refused: " + JournalPool.root(e),
        e);
  }

  /**
   * Runs work that sees the journal as it stands at one instant, whatever is written meanwhile.
   *
   * @throws JournalException when the database refuses
   */
  public <T> T snapshot(Work<T> work) {
    // H2 gives one instant to the whole transaction at this level only; PostgreSQL needs no more
    // than the other, by which it never refuses a reader
    int isolation =
        file ? Connection.TRANSACTION_SERIALIZABLE : Connection.TRANSACTION_REPEATABLE_READ;
    return transaction(
        c -> {
          c.setTransactionIsolation(isolation); // the pool sets it back
          return work.on(c);
        });
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
   * From now on entries say beside this machine's time what it was by the log of an exercise.
   *
   * @param clock the log's, ms since 1970 UTC; 0 while it says nothing
   */
  public void exercise(LongSupplier clock) {
    logMs = clock;
  }

  /**
   * Runs work in one transaction that may write, and adds to the record what it wrote.
   *
   * @param nowMs when it happens, ms since 1970 UTC: the one reading of the clock for all of it
   * @throws JournalException when the database refuses; nothing of the work is kept
   */
  public <T> T write(long nowMs, Writing<T> work) {
    long atMs = logMs.getAsLong();
    Long log = atMs > 0 ? atMs : null;
    Work<T> recorded =
        c -> {
          Recorder recorder = new Recorder(c, tables, nowMs, log);
          T result = work.with(recorder);
          recorder.end();
          return result;
        };
    return file ? alone(recorded) : transaction(recorded);
  }

  private <T> T alone(Work<T> work) {
    try {
      if (!pen.tryLock(JournalPool.PATIENCE_MS, TimeUnit.MILLISECONDS)) {
        throw refused(new SQLTransientConnectionException("another thread writes to it"));
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new JournalException("the journal was not written to: its writer was stopped", e);
    }
    try {
      return transaction(work);
    } finally {
      pen.unlock();
    }
  }

  /** Tells every entry, oldest first. */
  public void entries(Consumer<Entry> each) {
    Boolean unused =
        transaction(
            c -> {
              EntryTable.all(c, each);
              return true;
            });
  }

  /** Tells the entries of a well that say one of these, oldest first. */
  public void entries(String well, List<String> what, Consumer<Entry> each) {
    Boolean unused =
        transaction(
            c -> {
              EntryTable.of(c, well, what, each);
              return true;
            });
  }

  /** The number and hash of the newest entry. */
  public Head head() {
    return transaction(EntryTable::head);
  }

  /** The end of the record: its newest entry's number and hash. */
  public record Head(long seq, String hash) {}

  /** For each partition of the topic that a well has taken in so far, the offset to go on with. */
  public Map<Integer, Long> inbox(String well, String topic) {
    return transaction(c -> Inbox.next(c, well, topic));
  }

  @Override
  public void close() {
    pool.close();
    if (file) {
      giveRoomBack();
    }
  }

  /** Has the database close once more, this time using room in its file again. */
  private void giveRoomBack() {
    String again =
        pool.getJdbcUrl().replace(APPENDS, ";MAX_COMPACT_TIME=" + JournalPool.PATIENCE_MS);
    try {
      DriverManager.getConnection(again, pool.getUsername(), pool.getPassword()).close();
    } catch (SQLException e) {
      // somebody else has opened it since, or the disk is full: the file stays as large as it is
    }
  }
}
