package stillwatch.alerts.route;

import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import stillwatch.alerts.journal.Journal;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;

/**
 * What must leave the machine, kept in the journal until the other side has it. Safe from any
 * thread.
 */
public final class Outbox {
  private static final String RAISED = "raised";

  private final Journal journal;
  private final List<Route> routes;
  private final boolean exercise;

  /** The outbox of these routes, of a watch that the well itself feeds. */
  public Outbox(Journal journal, List<Route> routes) {
    this(journal, routes, false);
  }

  /**
   * The outbox of these routes.
   *
   * @param exercise whether a recording feeds the watch: all that goes out says so
   */
  public Outbox(Journal journal, List<Route> routes, boolean exercise) {
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
  public void add(Connection c, Finding finding, long nowMs) throws SQLException {
    String event = finding.returned() ? "returned" : RAISED;
    for (Route route : routes) {
      Duration after = route.plan().after();
      boolean late = after != null && finding.returned() && !delivered(c, route, finding);
      if (route.wants(finding) && !late && !has(c, route, finding, event)) {
        long dueMs = after != null && !finding.returned() ? nowMs + after.toMillis() : nowMs;
        insert(c, route.name(), finding, event, dueMs);
      }
    }
  }

  private static void insert(Connection c, String route, Finding finding, String event, long dueMs)
      throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement(
            "insert into outbox (route, alarm, event, priority, finding, attempts, next_ms, fault) values (?, ?, ?, ?, ?, 0, ?, '')")) {
      s.setString(1, route);
      s.setString(2, finding.id());
      s.setString(3, event);
      s.setInt(4, finding.priority().ordinal());
      s.setString(5, new String(FindingCodec.encode(finding), StandardCharsets.UTF_8));
      s.setLong(6, dueMs);
      s.executeUpdate();
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
    return journal.transaction(
        c -> {
          boolean conditional = route.plan().after() != null;
          try (PreparedStatement s =
              c.prepareStatement(
                  "select o.seq, o.finding, o.attempts, o.event, a.asks from outbox o join alarm a on a.id = o.alarm"
                      + " where o.route = ? and o.delivered_ms is null and o.next_ms <= ?"
                      + " order by case when o.attempts < 5 then 0 else 1 end, o.priority desc, o.attempts, o.seq limit 50")) {
            s.setString(1, route.name());
            s.setLong(2, nowMs);
            try (ResultSet r = s.executeQuery()) {
              while (r.next()) {
                String event = r.getString(4);
                boolean whileAsked =
                    event.startsWith(RAISED) && (conditional || !event.equals(RAISED));
                if (whileAsked && !r.getBoolean(5)) {
                  remove(c, r.getLong(1));
                  continue;
                }
                Finding finding =
                    FindingCodec.decode(r.getString(2).getBytes(StandardCharsets.UTF_8));
                Delivery delivery =
                    new Delivery(r.getLong(1), event, finding, r.getInt(3) + 1, exercise);
                attempt(c, delivery);
                return Optional.of(delivery);
              }
              return Optional.empty();
            }
          }
        });
  }

  private static void remove(Connection c, long seq) throws SQLException {
    try (PreparedStatement s = c.prepareStatement("delete from outbox where seq = ?")) {
      s.setLong(1, seq);
      s.executeUpdate();
    }
  }

  private static void attempt(Connection c, Delivery delivery) throws SQLException {
    try (PreparedStatement s = c.prepareStatement("update outbox set attempts = ? where seq = ?")) {
      s.setInt(1, delivery.attempt());
      s.setLong(2, delivery.seq());
      s.executeUpdate();
    }
  }

  /** The other side has it; where the plan wants it repeated, the next time is set. */
  void delivered(Delivery delivery, Route route, long nowMs) {
    Duration repeat = route.plan().repeat();
    Boolean unused =
        journal.write(
            record -> {
              try (PreparedStatement s =
                  record
                      .connection()
                      .prepareStatement(
                          "update outbox set delivered_ms = ?, fault = '' where seq = ?")) {
                s.setLong(1, nowMs);
                s.setLong(2, delivery.seq());
                s.executeUpdate();
              }
              record.enter(
                  nowMs,
                  delivery.finding().well(),
                  "delivered",
                  delivery.finding().id(),
                  route.name(),
                  delivery.event() + ", attempt " + delivery.attempt());
              if (repeat != null
                  && delivery.event().startsWith(RAISED)
                  && delivery.finding().priority() == Priority.HIGH) {
                int times =
                    delivery.event().equals(RAISED)
                        ? 1
                        : Integer.parseInt(delivery.event().substring(7));
                insert(
                    record.connection(),
                    route.name(),
                    delivery.finding(),
                    RAISED + "-" + (times + 1),
                    nowMs + repeat.toMillis());
              }
              return true;
            });
  }

  void failed(Delivery delivery, String fault) {
    journal.transaction(
        c -> {
          try (PreparedStatement s =
              c.prepareStatement("update outbox set fault = ? where seq = ?")) {
            s.setString(1, fault.length() > 1000 ? fault.substring(0, 1000) : fault);
            s.setLong(2, delivery.seq());
            return s.executeUpdate();
          }
        });
  }

  /** How each route is doing now; what is not yet to go out does not wait. */
  public List<RouteStatus> status(long nowMs) {
    return routes.stream().map(r -> journal.transaction(c -> status(c, r.name(), nowMs))).toList();
  }

  private static RouteStatus status(Connection c, String route, long nowMs) throws SQLException {
    long waiting = 0;
    String fault = "";
    try (PreparedStatement s =
        c.prepareStatement(
            "select fault from outbox where route = ? and delivered_ms is null and (next_ms <= ? or attempts > 0) order by seq")) {
      s.setString(1, route);
      s.setLong(2, nowMs);
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
