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
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;

/** Alarms as rows of the journal. */
final class AlarmTable {
  private static final String COLUMNS =
      "finding, raised_summary, state, latches, seq, times, acknowledged_by, acknowledged_ms, note";

  private AlarmTable() {}

  private interface ParameterSetter {
    void fill(PreparedStatement s) throws SQLException;
  }

  private static List<DeskAlarm> list(Connection c, String rest, ParameterSetter filling)
      throws SQLException {
    try (PreparedStatement s = c.prepareStatement("select " + COLUMNS + " from alarm " + rest)) {
      filling.fill(s);
      return list(s);
    }
  }

  static Optional<DeskAlarm> find(Connection c, String well, String id) throws SQLException {
    List<DeskAlarm> found =
        list(
            c,
            "where well = ? and id = ?",
            s -> {
              s.setString(1, well);
              s.setString(2, id);
            });
    return found.stream().findFirst();
  }

  static List<DeskAlarm> all(Connection c) throws SQLException {
    return list(c, "order by seq", s -> {});
  }

  static List<DeskAlarm> open(Connection c, String well) throws SQLException {
    return list(
        c,
        "where well = ? and state <> ? order by priority desc, raised_ms, seq",
        s -> {
          s.setString(1, well);
          s.setString(2, AlarmState.NORMAL.name());
        });
  }

  private static final String NOT_HELD =
      "where well = ? and state not in ('NORMAL', 'SHELVED', 'SUPPRESSED_BY_DESIGN', 'OUT_OF_SERVICE')";

  static List<DeskAlarm> open(Connection c, String well, int atMost) throws SQLException {
    return list(
        c,
        NOT_HELD + " order by priority desc, raised_ms, seq limit ?",
        s -> {
          s.setString(1, well);
          s.setInt(2, atMost);
        });
  }

  static long openCount(Connection c, String well) throws SQLException {
    try (PreparedStatement s = c.prepareStatement("select count(*) from alarm " + NOT_HELD)) {
      s.setString(1, well);
      try (ResultSet r = s.executeQuery()) {
        return r.next() ? r.getLong(1) : 0;
      }
    }
  }

  static List<DeskAlarm> heldOrAgainstGauges(Connection c, String well, int atMost)
      throws SQLException {
    List<DeskAlarm> all = new ArrayList<>();
    for (String which :
        List.of(
            "state in ('SHELVED', 'SUPPRESSED_BY_DESIGN', 'OUT_OF_SERVICE')",
            "about in ('gauge', 'pair') and state in ('UNACKNOWLEDGED', 'ACKNOWLEDGED')")) {
      all.addAll(
          list(
              c,
              "where well = ? and " + which + " order by raised_ms desc, seq desc limit ?",
              s -> {
                s.setString(1, well);
                s.setInt(2, atMost);
              }));
    }
    return all;
  }

  static List<DeskAlarm> openOf(Connection c, String well, String point) throws SQLException {
    return list(
        c,
        "where well = ? and point = ? and state <> ? order by seq",
        s -> {
          s.setString(1, well);
          s.setString(2, point);
          s.setString(3, AlarmState.NORMAL.name());
        });
  }

  static List<DeskAlarm> newest(Connection c, String well, int atMost) throws SQLException {
    return list(
        c,
        "where well = ? order by raised_ms desc, seq desc limit ?",
        s -> {
          s.setString(1, well);
          s.setInt(2, atMost);
        });
  }

  static List<DeskAlarm> newestOver(Connection c, String well, int atMost) throws SQLException {
    return list(
        c,
        "where well = ? and state = ? order by raised_ms desc, seq desc limit ?",
        s -> {
          s.setString(1, well);
          s.setString(2, AlarmState.NORMAL.name());
          s.setInt(3, atMost);
        });
  }

  static void insert(Recorder record, DeskAlarm a) throws SQLException {
    record.wrote("alarm", a.finding().id());
    try (PreparedStatement s =
        record.statement(
            "insert into alarm (finding, raised_summary, state, latches, seq, times, acknowledged_by, acknowledged_ms, note, asks,"
                + " id, well, point, rule, priority, raised_ms, about) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")) {
      fill(s, a);
      Finding f = a.finding();
      s.setString(11, f.id());
      s.setString(12, f.well());
      s.setString(13, a.point());
      s.setString(14, f.rule());
      s.setInt(15, f.priority().rank());
      s.setLong(16, f.raisedMs());
      s.setString(17, f.about().wire());
      s.executeUpdate();
    }
  }

  static void update(Recorder record, DeskAlarm a) throws SQLException {
    record.wrote("alarm", a.finding().id());
    try (PreparedStatement s =
        record.statement(
            "update alarm set finding = ?, raised_summary = ?, state = ?, latches = ?, seq = ?, times = ?,"
                + " acknowledged_by = ?, acknowledged_ms = ?, note = ?, asks = ? where id = ?")) {
      fill(s, a);
      s.setString(11, a.finding().id());
      s.executeUpdate();
    }
  }

  private static void fill(PreparedStatement s, DeskAlarm a) throws SQLException {
    s.setString(1, DeskAlarm.text(a.finding()));
    s.setString(2, a.raisedSummary());
    s.setString(3, a.state().name());
    s.setBoolean(4, a.standing().latches());
    s.setLong(5, a.seq());
    s.setInt(6, a.times());
    s.setString(7, a.acknowledgedBy());
    s.setObject(8, a.acknowledgedMs(), Types.BIGINT);
    s.setString(9, a.note());
    s.setBoolean(10, a.state().asks());
  }

  private static List<DeskAlarm> list(PreparedStatement s) throws SQLException {
    List<DeskAlarm> found = new ArrayList<>();
    try (ResultSet r = s.executeQuery()) {
      while (r.next()) {
        found.add(alarm(r));
      }
    }
    return found;
  }

  private static DeskAlarm alarm(ResultSet r) throws SQLException {
    Finding finding = DeskAlarm.finding(r.getString(1));
    AlarmStanding standing =
        new AlarmStanding(
            AlarmState.valueOf(r.getString(3)),
            !finding.returned(),
            finding.priority() != Priority.INFORMATION,
            r.getBoolean(4));
    return new DeskAlarm(
        finding,
        r.getString(2),
        standing,
        r.getLong(5),
        r.getInt(6),
        r.getString(7),
        r.getObject(8, Long.class),
        r.getString(9));
  }
}
