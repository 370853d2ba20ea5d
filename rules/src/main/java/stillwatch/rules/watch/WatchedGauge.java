package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.finding.Evidence;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.signal.GaugeTrack;
import stillwatch.rules.signal.TrackSettings;
import stillwatch.rules.signal.Trail;

/** One gauge of the plan, its track, and the gauge rules that now hold against it. */
final class WatchedGauge {
  final GaugePlan plan;
  final GaugeTrack track;
  final String group;
  final Set<String> against = new TreeSet<>();
  @Nullable GaugeIndicator said;
  private double slope1h = Double.NaN;
  private double slope3h = Double.NaN;
  private long slopesMinute = Long.MIN_VALUE;
  private final double periodS;
  private final long firstDueMs;

  WatchedGauge(GaugePlan plan, long startMs) {
    this.plan = plan;
    group = plan.twin() == null ? plan.id() : plan.twin();
    periodS = plan.period().toMillis() / 1000.0;
    firstDueMs = startMs;
    track =
        new GaugeTrack(
            new TrackSettings(plan.low(), plan.high(), plan.resolution(), plan.accuracy()));
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

  GaugeIndicator indicator(String well, long nowMs, Bands bands, long lastOpeningMs) {
    track.said();
    slopes();
    long seenMs =
        Math.max(firstDueMs, Math.max(track.lastReceivedMs(), track.outOfRangeReceivedMs()));
    double outOfRangeS = track.outOfRangeMs() / 1000.0;
    GaugeIndicator now =
        new GaugeIndicator(
            well,
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
            outOfRangeS,
            track.outOfRangeSinceMs(),
            track.lastOutOfRange(),
            periodS,
            plan.accuracy(),
            plan.resolution(),
            bands.intactLowKPa(),
            bands.leakHighKPa(),
            bands.ceilingKPa(),
            lastOpeningMs < 0 ? Double.POSITIVE_INFINITY : (nowMs - lastOpeningMs) / 1000.0);
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
