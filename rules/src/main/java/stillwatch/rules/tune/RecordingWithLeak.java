package stillwatch.rules.tune;

import java.io.IOException;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Telemetry;

/**
 * A clean recording with a leak added from a moment on: what is lost is taken off every gauge of
 * the shut-in pressure alike, so the well's own noise and faults stay. What opens at once settles
 * within a minute (time constant 20 s); what grows loses so much an hour. Not thread-safe.
 */
public final class RecordingWithLeak implements TelemetrySource {
  private static final double SETTLING_MS = 20_000;

  private final TelemetrySource source;
  private final List<String> shutIn;
  private final Leak leak;
  private final long fromMs;
  private @Nullable GaugeSet known;
  private boolean[] leaks = new boolean[0];

  /**
   * A leak.
   *
   * @param kPa what is lost in the end, when it opens at once
   * @param kPaPerHour what is lost an hour, when it grows
   */
  public record Leak(double kPa, double kPaPerHour) {
    /** The label it is known by. */
    public String what() {
      return kPaPerHour > 0 ? "leak-slow" : "leak-fast";
    }

    /** What is lost so long after its beginning, kPa. */
    public double lost(long afterMs) {
      return afterMs <= 0
          ? 0
          : kPa * (1 - StrictMath.exp(-afterMs / SETTLING_MS)) + kPaPerHour * afterMs / 3_600_000.0;
    }
  }

  /** That recording with that leak, seen by those gauges. */
  public RecordingWithLeak(TelemetrySource source, List<String> shutIn, Leak leak, long fromMs) {
    this.source = source;
    this.shutIn = shutIn;
    this.leak = leak;
    this.fromMs = fromMs;
  }

  @Override
  public @Nullable Telemetry next() throws IOException {
    Telemetry entry = source.next();
    if (!(entry instanceof Frame frame) || frame.atMs() <= fromMs) {
      return entry;
    }
    if (frame.gauges() != known) {
      known = frame.gauges();
      leaks = new boolean[known.ids().size()];
      for (int i = 0; i < leaks.length; i++) {
        leaks[i] = shutIn.contains(known.ids().get(i));
      }
    }
    double lost = leak.lost(frame.atMs() - fromMs);
    double[] values = frame.values().clone();
    for (int i = 0; i < values.length; i++) {
      values[i] -= leaks[i] ? lost : 0;
    }
    return new Frame(
        frame.well(), frame.atMs(), frame.receivedMs(), frame.gauges(), values, frame.qualities());
  }

  @Override
  public void close() throws IOException {
    source.close();
  }
}
