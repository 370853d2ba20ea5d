package stillwatch.rules.watch;

import stillwatch.rules.indicator.PairIndicator;
import stillwatch.rules.signal.PairTrack;

/** Two gauges that should agree, and their track. */
final class WatchedPair {
  final WatchedGauge a;
  final WatchedGauge b;
  final String id;
  private final PairTrack track;

  WatchedPair(WatchedGauge a, WatchedGauge b) {
    this.a = a;
    this.b = b;
    id = a.plan.id() + "/" + b.plan.id();
    track = new PairTrack(a.plan.accuracy(), b.plan.accuracy());
  }

  /** Takes both levels in when both are fresh; says whether it did. */
  boolean update(long nowMs) {
    boolean fresh = a.fresh(nowMs) && b.fresh(nowMs);
    if (fresh) {
      track.update(
          Math.max(a.track.lastAtMs(), b.track.lastAtMs()), a.track.level(), b.track.level());
    }
    return fresh;
  }

  /** Whether their usual difference has been learned. */
  boolean known() {
    return track.ready();
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
