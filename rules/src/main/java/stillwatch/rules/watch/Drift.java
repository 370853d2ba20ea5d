package stillwatch.rules.watch;

import java.util.List;
import stillwatch.rules.indicator.GaugeIndicator;

/**
 * A slow decline of one gauge that is its own: it went on while another showed that it feels the
 * well, and it has not grown since. A leak beside a gauge that was plugged meanwhile makes it grow.
 * The limits are common practice, no source. Not thread-safe.
 */
final class Drift {
  private static final long NEVER = Long.MIN_VALUE / 2;

  /** A decline of less than this share of the accuracy an hour is none. */
  private static final double WORTH = 0.1;

  private static final double GROWS = 1.25;

  /** The slope of three hours speaks for its middle. */
  private static final long LAG_MS = 90 * 60_000L;

  private long sinceMs = NEVER;
  private long witnessedMs = NEVER;
  private double rate;

  /**
   * Whether the decline is the gauge's own, as far as the others show.
   *
   * @param said what the gauge says now
   * @param others those beside it
   */
  boolean known(GaugeIndicator said, List<WatchedGauge> others) {
    double decline = said.course().sureDecline();
    if (!(decline > WORTH * said.accuracy())) {
      sinceMs = NEVER;
      witnessedMs = NEVER;
      rate = 0;
      return false;
    }
    sinceMs = sinceMs == NEVER ? said.atMs() : sinceMs;
    for (WatchedGauge o : others) {
      if (o.trusted()
          && !o.missedRise()
          && o.provenMs() > Math.max(witnessedMs, sinceMs - LAG_MS)) {
        witnessedMs = o.provenMs();
        rate = decline;
      }
    }
    return decline <= GROWS * rate;
  }
}
