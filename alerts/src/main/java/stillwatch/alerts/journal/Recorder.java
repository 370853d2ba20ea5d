package stillwatch.alerts.journal;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * A transaction that adds to the record. It holds the record's end from the beginning, so that
 * entries form one chain whoever writes, and it is one instant: everything in it has the same time.
 * Whatever row it writes or deletes it must name by {@link #wrote}. Used by the thread that runs
 * the transaction only.
 */
public final class Recorder {
  private final Connection connection;
  private final Map<String, Table> tables;
  private final long nowMs;
  private final @Nullable Long logMs;
  private final Map<Table, Map<String, List<Object>>> written = new LinkedHashMap<>();
  private long seq;
  private String hash;

  Recorder(Connection connection, Map<String, Table> tables, long nowMs, @Nullable Long logMs)
      throws SQLException {
    this.connection = connection;
    this.tables = tables;
    this.nowMs = nowMs;
    this.logMs = logMs;
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

  /** A statement of the transaction's connection, to be closed by who asks for it. */
  public PreparedStatement statement(String sql) throws SQLException {
    return connection.prepareStatement(sql);
  }

  /** When all of this happens, ms since 1970 UTC. */
  public long nowMs() {
    return nowMs;
  }

  /** The hash of the newest entry so far. */
  public String hash() {
    return hash;
  }

  /**
   * Says that a row was written or deleted, so that the record vouches for it as it stands when the
   * transaction ends.
   *
   * @param table in lower case
   * @param key the values of its primary key, in order
   * @throws IllegalArgumentException when the journal has no such table
   */
  public void wrote(String table, Object... key) {
    Table known = tables.get(table);
    if (known == null || known.key().size() != key.length) {
      throw new IllegalArgumentException(
          "the journal has no table " + table + " with a key of " + key.length);
    }
    List<Object> values = List.of(key);
    written.computeIfAbsent(known, t -> new LinkedHashMap<>()).put(Rows.name(values), values);
  }

  /** Adds an entry, and returns it. */
  public Entry enter(String well, String what, String subject, String by, String body)
      throws SQLException {
    long next = seq + 1;
    Entry entry =
        new Entry(
            next,
            nowMs,
            well,
            what,
            subject,
            by,
            body,
            logMs,
            Entry.hash(hash, next, nowMs, well, what, subject, by, body, logMs));
    insert(entry);
    seq = next;
    hash = entry.hash();
    return entry;
  }

  private void insert(Entry entry) throws SQLException {
    try (PreparedStatement s =
        statement(
            "insert into entry (seq, written_ms, well, what, subject, by_whom, body, log_ms, hash) values (?, ?, ?, ?, ?, ?, ?, ?, ?)")) {
      s.setLong(1, entry.seq());
      s.setLong(2, entry.writtenMs());
      s.setString(3, entry.well());
      s.setString(4, entry.what());
      s.setString(5, entry.subject());
      s.setString(6, entry.by());
      s.setString(7, entry.body());
      s.setObject(8, entry.logMs(), Types.BIGINT);
      s.setString(9, entry.hash());
      s.executeUpdate();
    }
  }

  void end() throws SQLException {
    if (!written.isEmpty()) {
      Entry unused = enter("", Rows.WRITTEN, "", "", Rows.body(connection, written));
    }
    try (PreparedStatement s = statement("update head set seq = ?, hash = ? where id = 1")) {
      s.setLong(1, seq);
      s.setString(2, hash);
      s.executeUpdate();
    }
  }
}
