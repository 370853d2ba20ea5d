package stillwatch.alerts.people;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import stillwatch.alerts.journal.Recorder;

/** Requests that were acted on, as rows of the journal. */
final class RequestTable {
  private RequestTable() {}

  /** Whether a request is the first of its id; then it is kept, and those before are forgotten. */
  static boolean first(Recorder record, String id, long forgottenBeforeMs) throws SQLException {
    if (!ids(record.connection(), "select id from request where id = ?", id).isEmpty()) {
      return false;
    }
    for (String old :
        ids(record.connection(), "select id from request where at_ms < ?", forgottenBeforeMs)) {
      update(record, "delete from request where id = ?", old);
    }
    update(record, "insert into request (id, at_ms) values (?, " + record.nowMs() + ")", id);
    return true;
  }

  private static List<String> ids(Connection c, String sql, Object value) throws SQLException {
    try (PreparedStatement s = c.prepareStatement(sql)) {
      s.setObject(1, value);
      List<String> ids = new ArrayList<>();
      try (ResultSet r = s.executeQuery()) {
        while (r.next()) {
          ids.add(r.getString(1));
        }
      }
      return ids;
    }
  }

  private static void update(Recorder record, String sql, String id) throws SQLException {
    record.wrote("request", id);
    try (PreparedStatement s = record.statement(sql)) {
      s.setString(1, id);
      s.executeUpdate();
    }
  }
}
