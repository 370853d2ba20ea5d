package stillwatch.alerts.journal;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.Map;

/** How far each well has taken in each partition of a topic. */
public final class Inbox {
  private Inbox() {}

  /** For each partition of the topic that a well has taken in so far, the offset to go on with. */
  static Map<Integer, Long> next(Connection c, String well, String topic) throws SQLException {
    Map<Integer, Long> next = new HashMap<>();
    try (PreparedStatement s =
        c.prepareStatement(
            "select partition_no, next_offset from well_inbox where well = ? and topic = ?")) {
      s.setString(1, well);
      s.setString(2, topic);
      try (ResultSet r = s.executeQuery()) {
        while (r.next()) {
          next.put(r.getInt(1), r.getLong(2));
        }
      }
    }
    return next;
  }

  /** Notes how far a well has taken in a partition. */
  public static void takenIn(
      Recorder record, String well, String topic, int partition, long nextOffset)
      throws SQLException {
    record.wrote("well_inbox", well, topic, partition);
    String known =
        "update well_inbox set next_offset = ? where well = ? and topic = ? and partition_no = ?";
    String first =
        "insert into well_inbox (next_offset, well, topic, partition_no) values (?, ?, ?, ?)";
    if (rows(record, known, well, topic, partition, nextOffset) == 0) {
      int unused = rows(record, first, well, topic, partition, nextOffset);
    }
  }

  private static int rows(
      Recorder record, String sql, String well, String topic, int partition, long nextOffset)
      throws SQLException {
    try (PreparedStatement s = record.statement(sql)) {
      s.setLong(1, nextOffset);
      s.setString(2, well);
      s.setString(3, topic);
      s.setInt(4, partition);
      return s.executeUpdate();
    }
  }
}
