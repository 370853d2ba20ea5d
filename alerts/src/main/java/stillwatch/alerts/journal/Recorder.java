package stillwatch.alerts.journal;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;

/**
 * A transaction that adds to the record. It holds the record's end from the beginning, so that
 * entries form one chain whoever writes. Used by the thread that runs the transaction only.
 */
public final class Recorder {
  private final Connection connection;
  private long seq;
  private String hash;

  Recorder(Connection connection) throws SQLException {
    this.connection = connection;
    try (PreparedStatement s =
            connection.prepareStatement("select seq, hash from head where id = 1 for update");
        ResultSet r = s.executeQuery()) {
      if (!r.next()) {
        throw new SQLException("the record's end is missing");
      }
      seq = r.getLong(1);
      hash = r.getString(2);
    }
  }

  /** The transaction's connection. */
  public Connection connection() {
    return connection;
  }

  /** Adds an entry, and returns it. */
  public Entry enter(
      long writtenMs, String well, String what, String subject, String by, String body)
      throws SQLException {
    long next = seq + 1;
    Entry entry =
        new Entry(
            next,
            writtenMs,
            well,
            what,
            subject,
            by,
            body,
            Entry.hash(hash, next, writtenMs, well, what, subject, by, body));
    try (PreparedStatement s =
        connection.prepareStatement(
            "insert into entry (seq, written_ms, well, what, subject, by_whom, body, hash) values (?, ?, ?, ?, ?, ?, ?, ?)")) {
      s.setLong(1, next);
      s.setLong(2, writtenMs);
      s.setString(3, well);
      s.setString(4, what);
      s.setString(5, subject);
      s.setString(6, by);
      s.setString(7, body);
      s.setString(8, entry.hash());
      s.executeUpdate();
    }
    seq = next;
    hash = entry.hash();
    return entry;
  }

  void end() throws SQLException {
    try (PreparedStatement s =
        connection.prepareStatement("update head set seq = ?, hash = ? where id = 1")) {
      s.setLong(1, seq);
      s.setString(2, hash);
      s.executeUpdate();
    }
  }
}
