package stillwatch.alerts.journal;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;

/** Connections to a journal's database, and what it says when it refuses. */
final class JournalPool {
  /** So long a journal is waited for. */
  static final int PATIENCE_MS = 10_000;

  private JournalPool() {}

  /**
   * Those to this database.
   *
   * @throws JournalException when there is none to be had
   */
  static HikariDataSource of(String url, String user, String password) {
    try {
      return new HikariDataSource(config(url, user, password));
    } catch (RuntimeException e) {
      throw new JournalException(
          "the journal cannot be opened: "
              + root(e)
              + "; check that no other watch has it open, that its file is not damaged, its address, user and password",
          e);
    }
  }

  private static HikariConfig config(String url, String user, String password) {
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
    return config;
  }

  /** The innermost reason in one line. */
  static String root(Throwable e) {
    Throwable at = e;
    for (Throwable c = at.getCause(); c != null; c = c.getCause()) {
      at = c;
    }
    String said = at.getMessage();
    return (said == null ? "its database cannot read it" : said)
        .lines()
        .findFirst()
        .orElse(at.toString())
        .replaceFirst("; SQL statement:$", "");
  }
}
