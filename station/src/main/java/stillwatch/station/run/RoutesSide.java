package stillwatch.station.run;

import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.random.RandomGenerator;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.room.Digest;
import stillwatch.alerts.route.Backoff;
import stillwatch.alerts.route.DigestSender;
import stillwatch.alerts.route.Outbox;
import stillwatch.alerts.route.Route;
import stillwatch.alerts.route.RouteStatus;
import stillwatch.alerts.route.Sender;
import stillwatch.ingest.entrance.Trust;
import stillwatch.rules.plan.Plan;

/** The routes by which alerts leave, and the outbox before them. */
final class RoutesSide implements AutoCloseable {
  private static final long FIRST_RETRY_MS = 1000;
  private static final long LONGEST_RETRY_MS = 300_000;

  private final List<Route> routes = new ArrayList<>();
  private final List<DigestSender> digests = new CopyOnWriteArrayList<>();
  private final Outbox outbox;

  /**
   * Makes them; nothing is sent before {@link #start}.
   *
   * @param trust whom they trust over TLS
   */
  RoutesSide(Plan plan, Journal journal, boolean drill, Trust trust) {
    String told = drill ? plan.well() + "/exercise" : plan.well();
    plan.routes().forEach(r -> routes.add(Route.of(r, told, trust)));
    outbox = new Outbox(plan.well(), journal, routes, drill);
  }

  /** Where the desk puts what is to be sent. */
  Outbox outbox() {
    return outbox;
  }

  /** Starts a sender for each. */
  void start(Stages stages, Digest digest, Clock clock) {
    for (Route route : routes) {
      Duration every = route.plan().digest();
      if (every == null) {
        Backoff backoff =
            new Backoff(FIRST_RETRY_MS, LONGEST_RETRY_MS, RandomGenerator.getDefault());
        stages.start("route " + route.name(), () -> new Sender(outbox, route, backoff, clock));
      } else {
        DigestSender sender = new DigestSender(route, every, () -> digest.text(every), clock);
        digests.add(sender);
        stages.start("digest " + route.name(), () -> sender);
      }
    }
  }

  /** How each is. */
  List<RouteStatus> status() {
    List<RouteStatus> all = new ArrayList<>();
    for (RouteStatus s : outbox.status(System.currentTimeMillis())) {
      all.add(
          digests.stream()
              .map(DigestSender::status)
              .filter(d -> d.name().equals(s.name()))
              .findFirst()
              .orElse(s));
    }
    return all;
  }

  /** A sentence for each that fails. */
  List<String> failing() {
    return status().stream()
        .filter(RouteStatus::failing)
        .map(r -> "route " + r.name() + ", " + r.waiting() + " waiting: " + r.fault() + ".")
        .toList();
  }

  /** Why no digest gets out by any route, a sentence each; none while one does. */
  List<String> shoreUnreached() {
    if (digests.isEmpty()) {
      return List.of("the plan has no route with a digest.");
    }
    List<String> lost =
        digests.stream().flatMap(d -> d.lost().stream()).map(fault -> "route " + fault).toList();
    return lost.size() < digests.size() ? List.of() : lost;
  }

  @Override
  public void close() {
    routes.forEach(Route::close);
  }
}
