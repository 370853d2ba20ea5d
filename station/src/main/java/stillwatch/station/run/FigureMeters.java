package stillwatch.station.run;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Clock;
import java.util.List;
import java.util.function.Supplier;
import java.util.function.ToDoubleFunction;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.AlarmFigures;
import stillwatch.rules.book.Priority;

/**
 * The measures of ANSI/ISA-18.2, 16.4 as metrics. They are worked out of the whole journal, so not
 * again within a while.
 */
final class FigureMeters {
  private static final long WHILE_MS = 15_000;

  private final Supplier<AlarmFigures> figures;
  private final Clock clock;
  private @Nullable AlarmFigures known;
  private long knownMs;

  FigureMeters(Supplier<AlarmFigures> figures, Clock clock) {
    this.figures = figures;
    this.clock = clock;
  }

  private synchronized AlarmFigures now() {
    AlarmFigures last = known;
    if (last == null || clock.millis() - knownMs > WHILE_MS) {
      last = figures.get();
      known = last;
      knownMs = clock.millis();
    }
    return last;
  }

  void bindTo(MeterRegistry meters) {
    add(meters, "per.ten.minutes", "mean alarms in ten minutes", AlarmFigures::perTenMinutes);
    add(
        meters,
        "most.in.ten.minutes",
        "most alarms in any ten minutes",
        AlarmFigures::mostInTenMinutes);
    add(meters, "floods", "alarm floods so far", f -> f.floods().size());
    add(meters, "flood.share", "share of the time in flood", AlarmFigures::floodShare);
    add(meters, "stale", "alarms that have lasted for more than a day", AlarmFigures::stale);
    add(meters, "chattering", "alarm points that chatter", f -> f.chattering().size());
    for (Priority p : List.of(Priority.HIGH, Priority.MEDIUM, Priority.LOW)) {
      Gauge.builder("stillwatch.alarms.share", this, m -> m.now().shares().getOrDefault(p, 0.0))
          .tag("priority", p.wire())
          .description("share of the alarms that have this priority")
          .strongReference(true)
          .register(meters);
    }
  }

  private void add(
      MeterRegistry meters, String name, String says, ToDoubleFunction<AlarmFigures> of) {
    Gauge.builder("stillwatch.alarms." + name, this, m -> of.applyAsDouble(m.now()))
        .description(says)
        .strongReference(true)
        .register(meters);
  }
}
