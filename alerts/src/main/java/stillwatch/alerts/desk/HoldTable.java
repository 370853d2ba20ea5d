package stillwatch.alerts.desk;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import stillwatch.alerts.journal.Recorder;

/** What is suppressed, as rows of the journal. */
final class HoldTable {
  private HoldTable() {}

  static List<Hold> all(Connection c, String well) throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement(
            "select point, how, until_ms, by_whom, reason, since_ms from hold where well = ? order by since_ms, point")) {
      s.setString(1, well);
      List<Hold> all = new ArrayList<>();
      try (ResultSet r = s.executeQuery()) {
        while (r.next()) {
          all.add(hold(r));
        }
      }
      return all;
    }
  }

  private static Hold hold(ResultSet r) throws SQLException {
    return new Hold(
        r.getString(1),
        Hold.How.of(r.getString(2)).orElseThrow(),
        r.getObject(3, Long.class),
        r.getString(4),
        r.getString(5),
        r.getLong(6));
  }

  static Optional<Hold> find(Connection c, String well, String point) throws SQLException {
    return all(c, well).stream().filter(h -> h.point().equals(point)).findFirst();
  }

  static void put(Recorder record, String well, Hold hold) throws SQLException {
    remove(record, well, hold.point());
    try (PreparedStatement s =
        record.statement(
            "insert into hold (well, point, how, until_ms, by_whom, reason, since_ms) values (?, ?, ?, ?, ?, ?, ?)")) {
      s.setString(1, well);
      s.setString(2, hold.point());
      s.setString(3, hold.how().wire());
      s.setObject(4, hold.untilMs(), Types.BIGINT);
      s.setString(5, hold.by());
      s.setString(6, hold.reason());
      s.setLong(7, hold.sinceMs());
      s.executeUpdate();
    }
  }

  static void remove(Recorder record, String well, String point) throws SQLException {
    record.wrote("hold", well, point);
    try (PreparedStatement s = record.statement("delete from hold where well = ? and point = ?")) {
      s.setString(1, well);
      s.setString(2, point);
      s.executeUpdate();
    }
  }
}
