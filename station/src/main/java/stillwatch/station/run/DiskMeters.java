package stillwatch.station.run;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import stillwatch.ingest.disk.Disk;

/** The measures of a data folder's disk. */
public final class DiskMeters {
  private DiskMeters() {}

  /** Has a disk measured. */
  public static void bind(Disk disk, MeterRegistry meters) {
    Gauge.builder("stillwatch.disk.used", () -> disk.space().usedShare())
        .description("share of the data folder's disk that is taken, 0 to 1")
        .register(meters);
    Gauge.builder("stillwatch.disk.free", () -> disk.space().freeBytes())
        .baseUnit("bytes")
        .description("what may still be written to the data folder's disk")
        .register(meters);
    Gauge.builder(
            "stillwatch.disk.left", () -> disk.left().map(d -> d.toMillis() / 1000.0).orElse(-1.0))
        .baseUnit("seconds")
        .description(
            "how long that lasts at the rate of the last half hour; -1 while it does not fill")
        .register(meters);
    Gauge.builder("stillwatch.disk.full", () -> disk.full().isPresent() ? 1 : 0)
        .description("1 while the disk is full and no telemetry is taken")
        .register(meters);
  }
}
