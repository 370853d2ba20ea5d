package stillwatch.rules.watch;

import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.indicator.PairIndicator;
import stillwatch.rules.signal.PairTrack;
import stillwatch.rules.well.WellFacts;

/** Two gauges that should agree, and their track. */
final class WatchedPair {
  final WatchedGauge a;
  final WatchedGauge b;
  final String id;
  private final boolean bounded;
  private final double head;
  private final long longestMs;
  private PairTrack track;

  /** A pair; where depths and the fluid's gradient are known their static head is allowed for. */
  WatchedPair(WatchedGauge a, WatchedGauge b, @Nullable WellFacts facts) {
    this.a = a;
    this.b = b;
    id = a.plan.id() + "/" + b.plan.id();
    bounded = a.plan.kind() == Kind.PRESSURE;
    head = head(a, b, facts);
    longestMs = Math.max(a.periodMs(), b.periodMs());
    track = newTrack();
  }

  /** The other one of the two. */
  WatchedGauge beside(WatchedGauge one) {
    return one == a ? b : a;
  }

  private static double head(WatchedGauge a, WatchedGauge b, @Nullable WellFacts facts) {
    double deeperBy = a.plan.depthM() - b.plan.depthM();
    return Double.isNaN(deeperBy) || facts == null ? 0 : deeperBy * facts.gradient();
  }

  private PairTrack newTrack() {
    return new PairTrack(
        a.plan.accuracy(),
        b.plan.accuracy(),
        head,
        bounded ? PairTrack.BOUNDED : PairTrack.ANY_OFFSET,
        10 * longestMs);
  }

  /** Somebody worked on one of them: another offset may be learned. */
  void learnAnew() {
    track = newTrack();
  }

  /** Takes both levels in when both are fresh; says whether it did. */
  boolean update(long nowMs) {
    boolean fresh = a.fresh(nowMs) && b.fresh(nowMs) && !a.track.waiting() && !b.track.waiting();
    if (fresh) {
      track.update(
          Math.max(a.track.lastAtMs(), b.track.lastAtMs()), a.track.level(), b.track.level());
    }
    return fresh;
  }

  /** Whether their usual difference has been judged. */
  boolean known() {
    return track.ready();
  }

  /** Whether the two have ever agreed. */
  boolean agreed() {
    return track.agreed();
  }

  double excess() {
    return track.excess();
  }

  double bound() {
    return track.bound();
  }

  PairIndicator indicator(String well, long nowMs) {
    return new PairIndicator(
        well,
        id,
        a.plan.kind().wire(),
        nowMs,
        a.trusted() && b.trusted(),
        track.difference(),
        track.offset(),
        track.excess(),
        track.bound(),
        a.odd || b.odd);
  }
}
