package stillwatch.rules.watch;

import org.jspecify.annotations.Nullable;
import stillwatch.rules.indicator.LateIndicator;
import stillwatch.rules.signal.LateCourse;

/**
 * What a gauge read during an outage, told by the backlog that comes after live readings: judged
 * from where the gauge stood before the outage, apart from the live estimators. Not thread-safe.
 */
final class Backlog {
  /** No late reading for so long: the backlog has been read. */
  private static final long ENDED_MS = 15_000;

  /** So long what came back stays an alarm. */
  private static final long SHOWN_MS = 10 * 60_000L;

  private final WatchedGauge gauge;
  private final long shortestMs;
  private long fromMs = Long.MIN_VALUE;
  private long toMs;
  private long lastAtMs = Long.MIN_VALUE;
  private double levelBefore = Double.NaN;
  private long lastLateMs = Long.MIN_VALUE;
  private @Nullable LateCourse course;
  private @Nullable LateIndicator told;

  Backlog(WatchedGauge gauge) {
    this.gauge = gauge;
    shortestMs = Math.max(60_000, 5 * gauge.periodMs());
  }

  /** A live reading is about to be taken: where it leaves a gap, the level before it is kept. */
  void live(long atMs) {
    if (lastAtMs != Long.MIN_VALUE && atMs - lastAtMs > shortestMs) {
      fromMs = lastAtMs;
      toMs = atMs;
      levelBefore = gauge.track.level();
      course = null;
    }
    lastAtMs = atMs;
  }

  /** A reading that lies before one already taken. */
  void late(long atMs, long receivedMs, double value) {
    boolean inOutage = fromMs != Long.MIN_VALUE && atMs > fromMs && atMs < toMs;
    if (!inOutage || !(value >= gauge.plan.low() && value <= gauge.plan.high())) {
      return;
    }
    if (course == null) {
      course = new LateCourse(levelBefore);
    }
    course.accept(atMs, value);
    lastLateMs = receivedMs;
  }

  /**
   * What the backlog showed, once it has been read and again when it may be put away; else null.
   */
  @Nullable LateIndicator told(String well, long nowMs) {
    LateIndicator before = told;
    if (before != null && nowMs - before.nowMs() >= SHOWN_MS) {
      told = null;
      return row(well, nowMs, before.fromMs(), before.onsetMs(), before.change(), true);
    }
    LateCourse read = course;
    if (read == null || nowMs - lastLateMs < ENDED_MS) {
      return null;
    }
    course = null;
    fromMs = Long.MIN_VALUE;
    told = row(well, nowMs, read.fromMs(), read.onsetMs(), read.change(), false);
    return told;
  }

  private LateIndicator row(
      String well, long nowMs, long firstMs, long onsetMs, double change, boolean over) {
    return new LateIndicator(
        well,
        gauge.plan.id(),
        gauge.plan.kind().wire(),
        gauge.plan.role().wire(),
        nowMs,
        firstMs,
        toMs,
        onsetMs,
        change,
        over,
        gauge.track.level() - levelBefore);
  }
}
