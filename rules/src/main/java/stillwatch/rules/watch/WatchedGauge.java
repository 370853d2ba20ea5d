package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.finding.Evidence;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.signal.GaugeTrack;
import stillwatch.rules.signal.SlowTrend;
import stillwatch.rules.signal.TrackSettings;
import stillwatch.rules.signal.Trail;

/** One gauge of the plan, its track, and the gauge rules that now hold against it. */
final class WatchedGauge {
  final GaugePlan plan;
  final GaugeTrack track;
  final String group;
  final Set<String> against = new TreeSet<>();
  boolean odd;
  String oddWhy = "";

  /** When it last left its own course while a twin that is alive kept to its, log time. */
  long strayedMs = Long.MIN_VALUE / 2;

  @Nullable GaugeIndicator said;
  private final SlowTrend slow = new SlowTrend();
  private double slope1h = Double.NaN;
  private double slope3h = Double.NaN;
  private long slopesMinute = Long.MIN_VALUE;
  private final double periodS;
  private final long firstDueMs;

  WatchedGauge(GaugePlan plan, long startMs) {
    this.plan = plan;
    group =
        plan.kind() == Kind.SOUND
            ? Gauges.HYDROPHONES
            : plan.twin() == null ? plan.id() : plan.twin();
    periodS = plan.period().toMillis() / 1000.0;
    firstDueMs = startMs;
    track =
        new GaugeTrack(
            new TrackSettings(
                plan.kind(), plan.low(), plan.high(), plan.resolution(), plan.accuracy()));
  }

  /** Whether rules about the well may stand on it. */
  boolean trusted() {
    return against.isEmpty() && track.acceptedCount() > 0;
  }

  /**
   * Whether its last believable reading is at most three periods old and nothing worse came since.
   */
  boolean fresh(long nowMs) {
    return track.acceptedCount() > 0
        && !track.outOfRange()
        && nowMs - track.lastReceivedMs() <= Math.max(5000, 3 * plan.period().toMillis());
  }

  /** Whether its last readings moved as a living gauge's do. */
  boolean alive() {
    return track.acceptedCount() > 0
        && track.unchangedMs()
            <= Math.max(10_000, Math.max(5 * plan.period().toMillis(), 3 * (long) track.habitMs()));
  }

  /** Whether it goes to and fro no more than it usually does. */
  boolean calm() {
    double usual = track.usualJitter();
    return Double.isNaN(usual) || track.jitter() <= 3 * usual;
  }

  /** The well was touched: slow courses begin again. */
  void touched(long atMs) {
    track.touched(atMs);
    slow.restart();
  }

  GaugeIndicator indicator(Moment moment, boolean calmTwin) {
    long nowMs = moment.nowMs();
    Bands bands = moment.bands();
    boolean outOfRange = track.outOfRangeLately();
    track.said();
    slopes();
    if (track.acceptedCount() > 0) {
      slow.accept(track.lastAtMs(), track.level(), moment.ambient());
    }
    long seenMs =
        Math.max(firstDueMs, Math.max(track.lastReceivedMs(), track.outOfRangeReceivedMs()));
    double outOfRangeS = track.outOfRangeMs() / 1000.0;
    GaugeIndicator now =
        new GaugeIndicator(
            moment.well(),
            plan.id(),
            plan.kind().wire(),
            plan.role().wire(),
            group,
            track.acceptedCount() > 0 ? track.lastAtMs() : nowMs,
            nowMs,
            trusted(),
            track.lastValue(),
            track.level(),
            track.slopePerHour10m(),
            slope1h,
            slope3h,
            track.fall60s(),
            track.fall10m(),
            track.noise(),
            track.unchangedMs() / 1000.0,
            track.lastAtMs() - track.unchangedMs(),
            track.habitMs() / 1000.0,
            track.changes(),
            (nowMs - seenMs) / 1000.0,
            seenMs,
            outOfRange,
            outOfRangeS,
            track.outOfRangeSinceMs(),
            track.lastOutOfRange(),
            periodS,
            plan.accuracy(),
            plan.resolution(),
            bands.intactLowKPa(),
            bands.leakHighKPa(),
            bands.ceilingKPa(),
            slow.slopePerHour() + moment.cooling().value(),
            StrictMath.hypot(slow.slopeError(), moment.cooling().deviation()),
            track.departure(),
            track.departureSigma(),
            track.shortSum(),
            track.shortSinceMs(),
            track.msUntil(bands.ceilingKPa()) / 1000.0,
            track.soonestMsUntil(bands.ceilingKPa()) / 1000.0,
            track.latestMsUntil(bands.ceilingKPa()) / 1000.0,
            track.jitter(),
            track.usualJitter(),
            track.lively(),
            track.straightMs() / 1000.0,
            track.spikes(),
            track.rise(),
            track.background(),
            odd,
            oddWhy,
            calmTwin);
    said = now;
    return now;
  }

  /** The slopes over hours, calculated again once a minute of the source's time. */
  private void slopes() {
    long minute = Math.floorDiv(track.lastAtMs(), 60_000);
    if (minute != slopesMinute) {
      slopesMinute = minute;
      slope1h = track.slopePerHour1h();
      slope3h = track.slopePerHour3h();
    }
  }

  /** How its level went from a little before a time up to now, for evidence. */
  Evidence.Trail trail(long fromMs) {
    List<Long> atMs = new ArrayList<>();
    List<Double> level = new ArrayList<>();
    for (Trail.Point point : track.trail().since(fromMs - 60_000)) {
      atMs.add(point.atMs());
      level.add(point.level());
    }
    return new Evidence.Trail(plan.id(), plan.kind().baseUnit(), atMs, level);
  }
}
