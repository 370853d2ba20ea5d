package stillwatch.alerts.journal;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.nio.file.Path;

/**
 * The two databases a journal may be in: a file, and a real PostgreSQL server started for the test.
 */
public enum Databases {
  FILE {
    @Override
    public Journal open(Path folder) {
      return Journal.inFolder(folder);
    }

    @Override
    String url(Path folder) {
      return Journal.fileUrl(folder);
    }

    @Override
    String user() {
      return "stillwatch";
    }
  },
  POSTGRESQL {
    @Override
    public Journal open(Path folder) {
      return Journal.open(url(folder), user(), "");
    }

    @Override
    String url(Path folder) {
      create(folder);
      return Server.RUNNING.getJdbcUrl("postgres", databaseOf(folder));
    }

    @Override
    String user() {
      return "postgres";
    }
  };

  private static String databaseOf(Path folder) {
    return "j" + Integer.toHexString(folder.hashCode());
  }

  /** Makes the PostgreSQL database of this folder where there is none. */
  public static void create(Path folder) {
    String name = databaseOf(folder);
    try (var c = Server.RUNNING.getPostgresDatabase().getConnection();
        var s = c.createStatement();
        var known = s.executeQuery("select 1 from pg_database where datname = '" + name + "'")) {
      if (!known.next()) {
        s.execute("create database " + name);
      }
    } catch (java.sql.SQLException e) {
      throw new IllegalStateException("no database for the test", e);
    }
  }

  /** How PostgreSQL's own tools reach the database of this folder. */
  public static String connection(Path folder) {
    return "postgresql://postgres@127.0.0.1:" + Server.RUNNING.getPort() + "/" + databaseOf(folder);
  }

  /** A journal of its own for this folder; the same one for the same folder. */
  public abstract Journal open(Path folder);

  /** The JDBC URL of the database of this folder. */
  abstract String url(Path folder);

  /** Its user, who has no password. */
  abstract String user();

  private static final class Server {
    static final EmbeddedPostgres RUNNING = start();

    private static EmbeddedPostgres start() {
      try {
        return EmbeddedPostgres.start();
      } catch (IOException e) {
        throw new IllegalStateException("the PostgreSQL of the test does not start", e);
      }
    }
  }
}
