package stillwatch.alerts.route;

import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.journal.Recorder;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;

/**
 * What must leave the machine about one well, kept in the journal until the other side has it. Safe
 * from any thread.
 */
public final class Outbox {
  private static final String RAISED = "raised";
  private static final String DUE =
      "select o.seq, o.finding, o.attempts, o.event, a.asks from outbox o join alarm a on a.id = o.alarm"
          + " where a.well = ? and o.route = ? and o.delivered_ms is null and o.next_ms <= ?"
          + " order by case when o.attempts < 5 then 0 else 1 end, o.priority desc, o.attempts, o.seq limit ?";

  private final String well;
  private final Journal journal;
  private final List<Route> routes;
  private final boolean exercise;

  /** The outbox of these routes of a well, of a watch that the well itself feeds. */
  public Outbox(String well, Journal journal, List<Route> routes) {
    this(well, journal, routes, false);
  }

  /**
   * The outbox of these routes.
   *
   * @param well whose: routes of another may have the same names
   * @param exercise whether a recording feeds the watch: all that goes out says so
   */
  public Outbox(String well, Journal journal, List<Route> routes, boolean exercise) {
    this.well = well;
    this.journal = journal;
    this.routes = List.copyOf(routes);
    this.exercise = exercise;
  }

  /** The routes. */
  public List<Route> routes() {
    return routes;
  }

  /**
   * Puts the finding in for every route that wants it and has not had it, in the caller's
   * transaction. A route for what nobody acknowledges gets it later, and hears of its end only when
   * it was told of its beginning.
   */
  public void add(Recorder record, Finding finding) throws SQLException {
    Connection c = record.connection();
    String event = finding.returned() ? "returned" : RAISED;
    for (Route route : routes) {
      Duration after = route.plan().after();
      boolean late = after != null && finding.returned() && !delivered(c, route, finding);
      if (route.wants(finding) && !late && !has(c, route, finding, event)) {
        Duration pause = after == null || finding.returned() ? Duration.ZERO : after;
        insert(record, route, finding, event, pause);
      }
    }
  }

  private static void insert(
      Recorder record, Route route, Finding finding, String event, Duration after)
      throws SQLException {
    try (PreparedStatement s =
        record
            .connection()
            .prepareStatement(
                "insert into outbox (route, alarm, event, priority, finding, attempts, next_ms, fault) values (?, ?, ?, ?, ?, 0, ?, '')",
                Statement.RETURN_GENERATED_KEYS)) {
      s.setString(1, route.name());
      s.setString(2, finding.id());
      s.setString(3, event);
      s.setInt(4, finding.priority().rank());
      s.setString(5, new String(FindingCodec.encode(finding), StandardCharsets.UTF_8));
      // at once is at once, also when this machine's clock is set back meanwhile
      s.setLong(6, after.isZero() ? 0 : record.nowMs() + after.toMillis());
      s.executeUpdate();
      try (ResultSet made = s.getGeneratedKeys()) {
        made.next();
        record.wrote("outbox", made.getLong("seq"));
      }
    }
  }

  private static boolean has(Connection c, Route route, Finding finding, String event)
      throws SQLException {
    return any(
        c,
        "select 1 from outbox where route = ? and alarm = ? and event = ?",
        route.name(),
        finding.id(),
        event);
  }

  private static boolean delivered(Connection c, Route route, Finding finding) throws SQLException {
    return any(
        c,
        "select 1 from outbox where route = ? and alarm = ? and event = ? and delivered_ms is not null",
        route.name(),
        finding.id(),
        RAISED);
  }

  private static boolean any(Connection c, String sql, String... values) throws SQLException {
    try (PreparedStatement s = c.prepareStatement(sql)) {
      for (int i = 0; i < values.length; i++) {
        s.setString(i + 1, values[i]);
      }
      try (ResultSet r = s.executeQuery()) {
        return r.next();
      }
    }
  }

  /**
   * The most urgent delivery of the route that is due, of those as urgent the oldest; what the
   * other side has refused again and again lets the others pass. What was to go out only if nobody
   * acknowledged it, and somebody has, is taken out. The attempt is counted before it is made, so
   * that a delivery repeated after a crash says so.
   */
  Optional<Delivery> begin(Route route, long nowMs) {
    boolean due = journal.transaction(c -> !due(c, route, nowMs, 1).isEmpty());
    return due ? journal.write(nowMs, record -> begin(record, route)) : Optional.empty();
  }

  private Optional<Delivery> begin(Recorder record, Route route) throws SQLException {
    boolean conditional = route.plan().after() != null;
    for (Due due : due(record.connection(), route, record.nowMs(), 50)) {
      boolean whileAsked =
          due.event().startsWith(RAISED) && (conditional || !due.event().equals(RAISED));
      if (whileAsked && !due.asks()) {
        write(record, due.seq(), "delete from outbox where seq = ?");
        continue;
      }
      write(record, due.seq(), "update outbox set attempts = attempts + 1 where seq = ?");
      Finding finding = FindingCodec.decode(due.finding().getBytes(StandardCharsets.UTF_8));
      return Optional.of(
          new Delivery(
              due.seq(), due.event(), finding, due.attempts() + 1, exercise, record.hash()));
    }
    return Optional.empty();
  }

  /** A row that is due; {@code asks} says whether its alarm still needs acknowledgement. */
  private record Due(long seq, String finding, int attempts, String event, boolean asks) {}

  private List<Due> due(Connection c, Route route, long nowMs, int atMost) throws SQLException {
    try (PreparedStatement s = c.prepareStatement(DUE)) {
      s.setString(1, well);
      s.setString(2, route.name());
      s.setLong(3, nowMs);
      s.setInt(4, atMost);
      List<Due> due = new ArrayList<>();
      try (ResultSet r = s.executeQuery()) {
        while (r.next()) {
          due.add(
              new Due(r.getLong(1), r.getString(2), r.getInt(3), r.getString(4), r.getBoolean(5)));
        }
      }
      return due;
    }
  }

  /** Does this to a row, whose number comes after the values, and has the record vouch for it. */
  private static void write(Recorder record, long seq, String sql, Object... values)
      throws SQLException {
    record.wrote("outbox", seq);
    try (PreparedStatement s = record.statement(sql)) {
      for (int i = 0; i < values.length; i++) {
        s.setObject(i + 1, values[i]);
      }
      s.setLong(values.length + 1, seq);
      s.executeUpdate();
    }
  }

  /** The other side has it; where the plan wants it repeated, the next time is set. */
  void delivered(Delivery delivery, Route route, long nowMs) {
    Finding finding = delivery.finding();
    String attempt = delivery.event() + ", attempt " + delivery.attempt();
    Boolean unused =
        journal.write(
            nowMs,
            record -> {
              write(
                  record,
                  delivery.seq(),
                  "update outbox set delivered_ms = ?, fault = '' where seq = ?",
                  nowMs);
              record.enter(finding.well(), "delivered", finding.id(), route.name(), attempt);
              repeat(record, delivery, route);
              return true;
            });
  }

  private static void repeat(Recorder record, Delivery delivery, Route route) throws SQLException {
    Duration repeat = route.plan().repeat();
    String event = delivery.event();
    if (repeat != null
        && event.startsWith(RAISED)
        && delivery.finding().priority() == Priority.HIGH) {
      int times = event.equals(RAISED) ? 1 : Integer.parseInt(event.substring(7));
      insert(record, route, delivery.finding(), RAISED + "-" + (times + 1), repeat);
    }
  }

  /** The other side does not have it, and why. */
  void failed(Delivery delivery, String fault, long nowMs) {
    Boolean unused =
        journal.write(
            nowMs,
            record -> {
              String cut = fault.length() > 1000 ? fault.substring(0, 1000) : fault;
              write(record, delivery.seq(), "update outbox set fault = ? where seq = ?", cut);
              return true;
            });
  }

  /** How each route is doing now; what is not yet to go out does not wait. */
  public List<RouteStatus> status(long nowMs) {
    return routes.stream().map(r -> journal.transaction(c -> status(c, r.name(), nowMs))).toList();
  }

  private RouteStatus status(Connection c, String route, long nowMs) throws SQLException {
    long waiting = 0;
    String fault = "";
    try (PreparedStatement s =
        c.prepareStatement(
            "select o.fault from outbox o join alarm a on a.id = o.alarm where a.well = ? and o.route = ?"
                + " and o.delivered_ms is null and (o.next_ms <= ? or o.attempts > 0) order by o.seq")) {
      s.setString(1, well);
      s.setString(2, route);
      s.setLong(3, nowMs);
      try (ResultSet r = s.executeQuery()) {
        while (r.next()) {
          waiting++;
          fault = fault.isEmpty() ? r.getString(1) : fault;
        }
      }
    }
    return new RouteStatus(route, waiting, !fault.isEmpty(), fault);
  }
}
