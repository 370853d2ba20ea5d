package stillwatch.station.run;

import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.binder.jvm.JvmMemoryMetrics;
import io.micrometer.core.instrument.binder.system.ProcessorMetrics;
import io.micrometer.prometheusmetrics.PrometheusConfig;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;

/** The process's metrics. */
public final class Metrics {
  private final PrometheusMeterRegistry registry =
      new PrometheusMeterRegistry(PrometheusConfig.DEFAULT);

  /** With those of the process itself. */
  public Metrics() {
    new JvmMemoryMetrics().bindTo(registry);
    new ProcessorMetrics().bindTo(registry);
  }

  /** Where measures are added. */
  public MeterRegistry registry() {
    return registry;
  }

  /** In Prometheus text form. */
  public String text() {
    return registry.scrape();
  }
}
