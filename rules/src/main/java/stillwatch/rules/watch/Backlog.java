package stillwatch.rules.watch;

import org.jspecify.annotations.Nullable;
import stillwatch.rules.indicator.LateIndicator;
import stillwatch.rules.signal.LateCourse;

/**
 * What happened at a gauge during an outage. The first readings after it tell how far it stands
 * from where it stood before; a backlog, if one comes, what it read meanwhile, which is judged
 * apart from the live estimators. Not thread-safe.
 */
final class Backlog {
  /** No late reading for so long, or a period: the backlog has been read. */
  private static final long ENDED_MS = 15_000;

  /** So long what came back stays an alarm. */
  private static final long SHOWN_MS = 10 * 60_000L;

  /** So many readings after an outage tell where the gauge stands now. */
  private static final int READINGS = 3;

  /**
   * A change is more than so many times what the gauge usually does; common practice, no source.
   */
  private static final double SIGMAS = 8;

  private final WatchedGauge gauge;
  private final long shortestMs;
  private long fromMs = Long.MIN_VALUE;
  private long toMs;
  private long lastAtMs = Long.MIN_VALUE;
  private double levelBefore = Double.NaN;
  private int readings;
  private boolean compared = true;
  private long lastLateMs;
  private @Nullable LateCourse course;
  private @Nullable LateCourse cutOff;
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
      cutOff = course; // another outage ends a backlog
      course = null;
      readings = 0;
      compared = false;
    }
    readings++;
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
   * What is known of the outage: how far the gauge stands from before it, or what its backlog
   * showed, once that has been read; again when it may be put away; else null.
   */
  @Nullable LateIndicator told(String well, long nowMs) {
    LateIndicator before = told;
    if (before != null && nowMs - before.nowMs() >= SHOWN_MS) {
      told = null;
      return row(well, nowMs, before.fromMs(), before.onsetMs(), before.change(), true);
    }
    if (!compared && readings >= READINGS && !gauge.track.waiting()) {
      compared = true;
      if (moved()) {
        told = row(well, nowMs, fromMs, fromMs, left(), false);
        return told;
      }
    }
    LateCourse read = read(nowMs);
    if (read == null) {
      return null;
    }
    told = row(well, nowMs, read.fromMs(), read.onsetMs(), read.change(), false);
    return told;
  }

  /** A backlog that has been read to its end, once; null while there is none. */
  private @Nullable LateCourse read(long nowMs) {
    LateCourse read = cutOff;
    if (read == null && nowMs - lastLateMs >= Math.max(ENDED_MS, gauge.periodMs())) {
      read = course;
      course = null;
      fromMs = read == null ? fromMs : Long.MIN_VALUE;
    }
    cutOff = null;
    return read;
  }

  /** Whether the gauge stands elsewhere than before, and nothing was done to the well or to it. */
  private boolean moved() {
    double usual = gauge.track.fall().usual();
    return gauge.shutIn()
        && !gauge.touchedSince(fromMs)
        && Math.abs(left()) > (Double.isNaN(usual) ? 0 : SIGMAS * usual);
  }

  private double left() {
    return gauge.track.level() - levelBefore;
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
        left());
  }
}
