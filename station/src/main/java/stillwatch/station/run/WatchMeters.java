package stillwatch.station.run;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.util.List;
import stillwatch.alerts.desk.AlarmBoard;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.route.Outbox;
import stillwatch.alerts.route.Route;
import stillwatch.alerts.route.RouteStatus;
import stillwatch.alerts.series.WellPicture;
import stillwatch.alerts.watchdog.Watchdog;

/** The measures of a watch: whether it sees, what asks, what waits. */
final class WatchMeters {
  private WatchMeters() {}

  static void bindSight(Watchdog watchdog, WellPicture picture, MeterRegistry meters) {
    Gauge.builder("stillwatch.watching", () -> watchdog.blind().isEmpty() ? 1 : 0)
        .description("1 when the watch can see, 0 when it is blind")
        .register(meters);
    Gauge.builder("stillwatch.readings.age", () -> picture.frameAgeMs().orElse(-1000L) / 1000.0)
        .baseUnit("seconds")
        .description("age of the last reading; -1 when none have come")
        .register(meters);
  }

  static void bindDesk(AlarmBoard board, Journal journal, MeterRegistry meters) {
    Gauge.builder("stillwatch.alarms.open", board::openCount)
        .description("alarms that need acknowledgement")
        .register(meters);
    Gauge.builder("stillwatch.record.entries", () -> journal.head().seq())
        .description("entries of the record; one that shrinks was cut")
        .register(meters);
  }

  static void bindRoutes(Outbox outbox, MeterRegistry meters) {
    for (Route route : outbox.routes()) {
      Gauge.builder(
              "stillwatch.route.waiting",
              () -> waiting(outbox.status(System.currentTimeMillis()), route.name()))
          .tag("route", route.name())
          .description("deliveries that wait")
          .register(meters);
    }
  }

  private static double waiting(List<RouteStatus> all, String route) {
    return all.stream().filter(s -> s.name().equals(route)).mapToLong(RouteStatus::waiting).sum();
  }
}
