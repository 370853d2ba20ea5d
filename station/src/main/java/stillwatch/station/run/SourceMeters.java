package stillwatch.station.run;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.function.ToDoubleFunction;
import stillwatch.ingest.intake.SourceHealth;

/** What is measured of a source of readings. */
final class SourceMeters {
  private SourceMeters() {}

  /**
   * Measures it from now on.
   *
   * @param how how it is; NaN is measured while that is empty
   */
  static void bind(String name, Supplier<Optional<SourceHealth.State>> how, MeterRegistry meters) {
    Source source = new Source(name, how, meters);
    source.measure(
        "connected",
        "1 while the source is in touch with the other side",
        s -> s.connected() ? 1 : 0);
    source.measure(
        "taken", "readings and lines taken since this process began", SourceHealth.State::taken);
    source.measure(
        "again", "readings that came again and were not taken twice", SourceHealth.State::again);
    source.measure(
        "refused",
        "what was refused, whatever the reason",
        s -> s.refused().values().stream().mapToLong(Long::longValue).sum());
    source.measure(
        "reconnects", "how often the connection was made again", SourceHealth.State::reconnects);
  }

  private record Source(
      String name, Supplier<Optional<SourceHealth.State>> how, MeterRegistry meters) {
    void measure(String what, String description, ToDoubleFunction<SourceHealth.State> value) {
      Gauge.builder(
              "stillwatch.source." + what,
              () -> how.get().map(s -> (Double) value.applyAsDouble(s)).orElse(Double.NaN))
          .tag("source", name)
          .description(description)
          .register(meters);
    }
  }
}
