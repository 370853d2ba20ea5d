package stillwatch.alerts.route;

import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import stillwatch.alerts.journal.Journal;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;

/**
 * What must leave the machine, kept in the journal until the other side has it. Safe from any
 * thread.
 */
public final class Outbox {
  private final Journal journal;
  private final List<Route> routes;

  /** The outbox of these routes. */
  public Outbox(Journal journal, List<Route> routes) {
    this.journal = journal;
    this.routes = List.copyOf(routes);
  }

  /** The routes. */
  public List<Route> routes() {
    return routes;
  }

  /**
   * Puts the finding in for every route that wants it and has not had it, in the caller's
   * transaction.
   */
  public void add(Connection c, Finding finding, long nowMs) throws SQLException {
    for (Route route : routes) {
      if (route.wants(finding) && !has(c, route, finding)) {
        try (PreparedStatement s =
            c.prepareStatement(
                "insert into outbox (route, alarm, event, priority, finding, attempts, next_ms, fault) values (?, ?, ?, ?, ?, 0, ?, '')")) {
          s.setString(1, route.name());
          s.setString(2, finding.id());
          s.setString(3, event(finding));
          s.setInt(4, finding.priority().ordinal());
          s.setString(5, new String(FindingCodec.encode(finding), StandardCharsets.UTF_8));
          s.setLong(6, nowMs);
          s.executeUpdate();
        }
      }
    }
  }

  private static String event(Finding finding) {
    return finding.returned() ? "returned" : "raised";
  }

  private static boolean has(Connection c, Route route, Finding finding) throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement("select 1 from outbox where route = ? and alarm = ? and event = ?")) {
      s.setString(1, route.name());
      s.setString(2, finding.id());
      s.setString(3, event(finding));
      try (ResultSet r = s.executeQuery()) {
        return r.next();
      }
    }
  }

  /**
   * The most urgent delivery of the route that is due, of those as urgent the oldest. The attempt
   * is counted before it is made, so that a delivery repeated after a crash says so.
   */
  Optional<Delivery> begin(String route, long nowMs, Backoff backoff) {
    return journal.transaction(
        c -> {
          try (PreparedStatement s =
              c.prepareStatement(
                  "select seq, finding, attempts from outbox where route = ? and delivered_ms is null and next_ms <= ?"
                      + " order by priority desc, seq limit 1")) {
            s.setString(1, route);
            s.setLong(2, nowMs);
            try (ResultSet r = s.executeQuery()) {
              if (!r.next()) {
                return Optional.<Delivery>empty();
              }
              Finding finding =
                  FindingCodec.decode(r.getString(2).getBytes(StandardCharsets.UTF_8));
              Delivery delivery = new Delivery(r.getLong(1), finding, r.getInt(3) + 1);
              attempt(c, delivery, nowMs + backoff.afterMs(delivery.attempt()));
              return Optional.of(delivery);
            }
          }
        });
  }

  private static void attempt(Connection c, Delivery delivery, long nextMs) throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement("update outbox set attempts = ?, next_ms = ? where seq = ?")) {
      s.setInt(1, delivery.attempt());
      s.setLong(2, nextMs);
      s.setLong(3, delivery.seq());
      s.executeUpdate();
    }
  }

  void delivered(Delivery delivery, String route, long nowMs) {
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
              route,
              event(delivery.finding()) + ", attempt " + delivery.attempt());
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

  /** How each route is doing. */
  public List<RouteStatus> status() {
    return routes.stream().map(r -> journal.transaction(c -> status(c, r.name()))).toList();
  }

  private static RouteStatus status(Connection c, String route) throws SQLException {
    long waiting = 0;
    String fault = "";
    try (PreparedStatement s =
        c.prepareStatement(
            "select fault from outbox where route = ? and delivered_ms is null order by seq")) {
      s.setString(1, route);
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
