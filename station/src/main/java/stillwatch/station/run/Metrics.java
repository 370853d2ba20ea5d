package stillwatch.station.run;

import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.binder.jvm.JvmMemoryMetrics;
import io.micrometer.core.instrument.binder.system.ProcessorMetrics;
import io.micrometer.core.instrument.composite.CompositeMeterRegistry;
import io.micrometer.prometheusmetrics.PrometheusConfig;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;
import java.net.URI;
import java.util.Optional;
import stillwatch.ingest.entrance.Trust;

/** The process's metrics. */
public final class Metrics implements AutoCloseable {
  private final PrometheusMeterRegistry shown =
      new PrometheusMeterRegistry(PrometheusConfig.DEFAULT);
  private final MeterRegistry registry;

  /**
   * With those of the process itself. A receiver that is away is warned of and hinders nothing.
   *
   * @param receiver the address that takes metrics by OTLP over HTTP, to which they are sent every
   *     minute, or as often as {@code OTEL_METRIC_EXPORT_INTERVAL} says; empty for none
   * @param trust whom it trusts where the receiver speaks TLS
   */
  public Metrics(Optional<URI> receiver, Trust trust) {
    registry =
        receiver
            .<MeterRegistry>map(
                at -> new CompositeMeterRegistry().add(shown).add(OtlpSender.to(at, trust)))
            .orElse(shown);
    new JvmMemoryMetrics().bindTo(registry);
    new ProcessorMetrics().bindTo(registry);
  }

  /** Where measures are added. */
  public MeterRegistry registry() {
    return registry;
  }

  /** In Prometheus text form. */
  public String text() {
    return shown.scrape();
  }

  /** A receiver is told the last of them. */
  @Override
  public void close() {
    registry.close();
  }
}
