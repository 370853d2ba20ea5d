package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.IdentityHashMap;
import java.util.List;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.rules.indicator.ClockIndicator;
import stillwatch.rules.indicator.LateIndicator;

/**
 * Judges readings before they count: by their source's clock, and beside those of the other gauges
 * of the well. Gives each to its gauge's track, or to its backlog. Not thread-safe.
 */
final class ReadingJudge {
  /** Two gauges wait with the same change when the smaller is so large a share of the larger. */
  private static final double ALIKE = 0.6;

  /** Another gauge that moved less than this, kPa, stands still. */
  private static final double STILL_KPA = 100;

  private static final long REFUSED_TOLD_MS = 60_000;

  /** So long after a jump, source's time, the rules hear of each second: till a loss counts. */
  private static final long STIRRED_MS = 20_000;

  private static final long SECOND_MS = 1_000;

  private final Gauges gauges;
  private final long aheadMs;
  private final IdentityHashMap<GaugeSet, Source> sources = new IdentityHashMap<>();
  private final IdentityHashMap<WatchedGauge, Backlog> backlogs = new IdentityHashMap<>();
  private GaugeSet lastSet = GaugeSet.of();
  private Source last;
  private long lastFrameMs;
  private long lastAtMs = Long.MIN_VALUE;
  private double aheadS;
  private int refused;
  private long refusedMs = Long.MIN_VALUE / 2;
  private long jumpedAtMs = Long.MIN_VALUE / 2;
  private long heardAtMs = Long.MIN_VALUE / 2;

  /**
   * Whoever sends frames of one set of gauges: who they are, in the frame's order, and its clock.
   */
  private record Source(WatchedGauge[] gauges, Backlog[] backlogs, SourceClock clock) {}

  ReadingJudge(Gauges gauges, long aheadMs) {
    this.gauges = gauges;
    this.aheadMs = aheadMs;
    last = new Source(new WatchedGauge[0], new Backlog[0], new SourceClock(aheadMs));
  }

  void start(long startMs) {
    lastFrameMs = startMs;
    gauges.all().forEach(g -> backlogs.put(g, new Backlog(g)));
  }

  /**
   * Takes a frame; says whether the rules must hear of it at once: a gauge has jumped, just now or
   * so shortly before that it is not known yet whether it stays there.
   */
  boolean take(Frame frame, long nowMs) {
    find(frame.gauges());
    lastFrameMs = nowMs;
    aheadS = (frame.atMs() - frame.receivedMs()) / 1000.0;
    SourceClock clock = last.clock();
    SourceClock.Place place = clock.accept(frame);
    if (place == SourceClock.Place.AHEAD) {
      refused = nowMs - refusedMs > REFUSED_TOLD_MS ? 1 : refused + 1;
      refusedMs = nowMs;
      return false;
    }
    if (place == SourceClock.Place.ON) {
      lastAtMs = Math.max(lastAtMs, clock.atMs());
    }
    boolean jumped = readings(frame, clock.atMs(), place == SourceClock.Place.BEHIND);
    if (waits()) {
      settle(nowMs);
    }
    return heard(clock.atMs(), jumped);
  }

  private boolean waits() {
    for (WatchedGauge gauge : last.gauges()) {
      if (gauge != null && gauge.track.waiting()) {
        return true;
      }
    }
    return false;
  }

  private boolean heard(long atMs, boolean jumped) {
    jumpedAtMs = jumped ? atMs : jumpedAtMs;
    boolean stirred = atMs - jumpedAtMs <= STIRRED_MS && atMs - heardAtMs >= SECOND_MS;
    heardAtMs = jumped || stirred ? atMs : heardAtMs;
    return jumped || stirred;
  }

  private boolean readings(Frame frame, long atMs, boolean behind) {
    double[] values = frame.values();
    byte[] qualities = frame.qualities();
    boolean jumped = false;
    for (int i = 0; i < last.gauges().length; i++) {
      WatchedGauge gauge = last.gauges()[i];
      if (gauge != null && !Double.isNaN(values[i])) {
        Backlog backlog = last.backlogs()[i];
        if (behind) {
          backlog.late(atMs, frame.receivedMs(), values[i]);
        } else {
          backlog.live(atMs);
        }
        gauge.track.accept(atMs, frame.receivedMs(), values[i], qualities[i]);
        jumped |= gauge.track.jumped();
      } else if (gauge != null) {
        gauge.track.accept(atMs, frame.receivedMs(), values[i], qualities[i]);
      }
    }
    return jumped;
  }

  /** Somebody says that the clock of whatever source speaks for this gauge was set. */
  void clockSet(WatchedGauge gauge) {
    for (Source source : sources.values()) {
      if (Arrays.asList(source.gauges()).contains(gauge)) {
        source.clock().wasSet();
      }
    }
  }

  private void find(GaugeSet set) {
    if (set == lastSet) {
      return;
    }
    Source source = sources.get(set);
    if (source == null) {
      WatchedGauge[] known = set.ids().stream().map(gauges::get).toArray(WatchedGauge[]::new);
      Backlog[] late = Arrays.stream(known).map(backlogs::get).toArray(Backlog[]::new);
      source = new Source(known, late, new SourceClock(aheadMs));
      sources.put(set, source);
    }
    lastSet = set;
    last = source;
  }

  /**
   * What waits in several gauges alike is the well's; what waits alone may wait. Looked at on the
   * cadence, and with each frame of which a reading waits.
   */
  void settle(long nowMs) {
    List<WatchedGauge> shutIn = gauges.shutIn();
    for (WatchedGauge g : shutIn) {
      double change = g.track.waitingChange();
      if (!Double.isNaN(change)) {
        boolean still = true;
        for (WatchedGauge other : gauges.all()) {
          if (other != g && g.plan.kind() == other.plan.kind() && other.fresh(nowMs)) {
            double theirs = other.track.waitingChange();
            if (alike(change, theirs)) {
              other.track.release();
              g.track.release();
            }
            still &= Double.isNaN(theirs) && !(other.track.fall().lost() > STILL_KPA);
          }
        }
        g.track.othersStandStill(still && shutIn.size() > 1);
      }
    }
  }

  private static boolean alike(double a, double b) {
    return a * b > 0
        && Math.min(Math.abs(a), Math.abs(b)) > ALIKE * Math.max(Math.abs(a), Math.abs(b));
  }

  /** What backlogs have shown since the last time. */
  List<LateIndicator> told(String well, long nowMs) {
    List<LateIndicator> rows = new ArrayList<>();
    for (WatchedGauge g : gauges.all()) {
      Backlog backlog = backlogs.get(g);
      LateIndicator row = backlog == null ? null : backlog.told(well, nowMs);
      if (row != null) {
        rows.add(row);
      }
    }
    return rows;
  }

  /** What is known of the sources' clocks. */
  ClockIndicator clock(long nowMs) {
    long streak = 0;
    double backS = 0;
    for (WatchedGauge g : gauges.all()) {
      if (g.track.lateness().streak() > streak) {
        streak = g.track.lateness().streak();
        backS = g.track.lateness().backMs() / 1000.0;
      }
    }
    double movedS = 0;
    for (Source source : sources.values()) {
      long forwardMs = source.clock().forwardMs();
      movedS = Math.abs(forwardMs) > Math.abs(movedS) * 1000 ? forwardMs / 1000.0 : movedS;
    }
    return new ClockIndicator(
        streak, backS, aheadS, nowMs - refusedMs <= REFUSED_TOLD_MS ? refused : 0, movedS);
  }

  /** Log time of the last frame. */
  long lastFrameMs() {
    return lastFrameMs;
  }

  /** The greatest time of a frame taken, source's time; {@link Long#MIN_VALUE} before the first. */
  long lastAtMs() {
    return lastAtMs;
  }
}
