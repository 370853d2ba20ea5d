package stillwatch.alerts.desk;

import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;

/** Alarms as rows of the journal. */
final class AlarmTable {
  private static final String COLUMNS =
      "finding, raised_summary, state, acknowledged_by, acknowledged_ms, note";

  private AlarmTable() {}

  static Optional<DeskAlarm> find(Connection c, String id) throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement("select " + COLUMNS + " from alarm where id = ?")) {
      s.setString(1, id);
      return list(s).stream().findFirst();
    }
  }

  static List<DeskAlarm> open(Connection c, String well) throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement(
            "select "
                + COLUMNS
                + " from alarm where well = ? and state <> ? order by priority desc, raised_ms, id")) {
      s.setString(1, well);
      s.setString(2, AlarmState.NORMAL.name());
      return list(s);
    }
  }

  static List<DeskAlarm> newest(Connection c, String well, int atMost) throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement(
            "select "
                + COLUMNS
                + " from alarm where well = ? order by raised_ms desc, id limit ?")) {
      s.setString(1, well);
      s.setInt(2, atMost);
      return list(s);
    }
  }

  static void insert(Connection c, DeskAlarm a) throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement(
            "insert into alarm (finding, raised_summary, state, acknowledged_by, acknowledged_ms, note, id, well, rule, priority, raised_ms)"
                + " values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")) {
      fill(s, a);
      Finding f = a.finding();
      s.setString(7, f.id());
      s.setString(8, f.well());
      s.setString(9, f.rule());
      s.setInt(10, f.priority().ordinal());
      s.setLong(11, f.raisedMs());
      s.executeUpdate();
    }
  }

  static void update(Connection c, DeskAlarm a) throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement(
            "update alarm set finding = ?, raised_summary = ?, state = ?, acknowledged_by = ?, acknowledged_ms = ?, note = ? where id = ?")) {
      fill(s, a);
      s.setString(7, a.finding().id());
      s.executeUpdate();
    }
  }

  private static void fill(PreparedStatement s, DeskAlarm a) throws SQLException {
    s.setString(1, new String(FindingCodec.encode(a.finding()), StandardCharsets.UTF_8));
    s.setString(2, a.raisedSummary());
    s.setString(3, a.state().name());
    s.setString(4, a.acknowledgedBy());
    Long ms = a.acknowledgedMs();
    if (ms == null) {
      s.setNull(5, Types.BIGINT);
    } else {
      s.setLong(5, ms);
    }
    s.setString(6, a.note());
  }

  private static List<DeskAlarm> list(PreparedStatement s) throws SQLException {
    List<DeskAlarm> found = new ArrayList<>();
    try (ResultSet r = s.executeQuery()) {
      while (r.next()) {
        long acknowledgedMs = r.getLong(5);
        Long acknowledged = r.wasNull() ? null : Long.valueOf(acknowledgedMs);
        found.add(
            new DeskAlarm(
                FindingCodec.decode(r.getString(1).getBytes(StandardCharsets.UTF_8)),
                r.getString(2),
                AlarmState.valueOf(r.getString(3)),
                r.getString(4),
                acknowledged,
                r.getString(6)));
      }
    }
    return found;
  }
}
