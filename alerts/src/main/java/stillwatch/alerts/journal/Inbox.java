package stillwatch.alerts.journal;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.Map;

/** How far each partition of a topic has been taken in. */
public final class Inbox {
  private Inbox() {}

  /** For each partition of the topic taken in so far, the offset to go on with. */
  static Map<Integer, Long> next(Connection c, String topic) throws SQLException {
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
  }

  /** Notes how far a partition has been taken in. */
  public static void takenIn(Recorder record, String topic, int partition, long nextOffset)
      throws SQLException {
    record.wrote("inbox", topic, partition);
    String known = "update inbox set next_offset = ? where topic = ? and partition_no = ?";
    String first = "insert into inbox (next_offset, topic, partition_no) values (?, ?, ?)";
    if (rows(record, known, topic, partition, nextOffset) == 0) {
      int unused = rows(record, first, topic, partition, nextOffset);
    }
  }

  private static int rows(Recorder record, String sql, String topic, int partition, long nextOffset)
      throws SQLException {
    try (PreparedStatement s = record.statement(sql)) {
      s.setLong(1, nextOffset);
      s.setString(2, topic);
      s.setInt(3, partition);
      return s.executeUpdate();
    }
  }
}
