package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.indicator.CeilingTimes;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.Levels;
import stillwatch.rules.indicator.Losses;
import stillwatch.rules.indicator.LowTime;
import stillwatch.rules.indicator.Near;
import stillwatch.rules.indicator.TwinsIndicator;

/** The gauges of one group of twins. Not thread-safe. */
final class WatchedTwins {
  final String name;
  final List<WatchedGauge> members = new ArrayList<>();
  final List<WatchedPair> pairs = new ArrayList<>();
  private final LowClock low = new LowClock();

  WatchedTwins(String name) {
    this.name = name;
  }

  /** Whether another member can be trusted and is calm. */
  boolean calmBeside(WatchedGauge gauge) {
    for (WatchedGauge g : members) {
      if (g != gauge && g.trusted() && g.track.calm()) {
        return true;
      }
    }
    return false;
  }

  /**
   * What the members said last, of those that can be believed now.
   *
   * @param lowFromMs from when on a low pressure counts, source's time; {@link Long#MAX_VALUE} when
   *     it does not
   */
  TwinsIndicator indicator(Moment moment, Near near, long lowFromMs) {
    List<GaugeIndicator> reassuring = new ArrayList<>(members.size());
    List<GaugeIndicator> alarming = new ArrayList<>(members.size());
    long atMs = Long.MIN_VALUE;
    for (WatchedGauge g : members) {
      GaugeIndicator said = g.said;
      if (said != null) {
        atMs = Math.max(atMs, said.atMs());
        if (g.trusted()) {
          reassuring.add(said);
        }
        if (g.alarms(moment.nowMs())) {
          alarming.add(said);
        }
      }
    }
    int votes = Math.min(2, Math.max(1, alarming.size()));
    Votes slope = votes(reassuring).on(g -> g.course().slope10m());
    Levels levels = levels(moment, reassuring, alarming);
    WatchedGauge first = members.get(0);
    return new TwinsIndicator(
        moment.well(),
        name,
        first.plan.kind().wire(),
        first.plan.role().wire(),
        moment.nowMs(),
        atMs,
        reassuring.size(),
        alarming.size(),
        votes,
        votes(reassuring).on(GaugeIndicator::accuracy).largest(),
        slope.reached(),
        slope.largest(),
        reassuring,
        levels,
        losses(moment, reassuring, alarming, votes),
        lowTime(atMs, levels, lowFromMs, alarming),
        ceilingTimes(moment, reassuring),
        votes(reassuring).on(g -> g.hearing().rise()).largest(),
        votes(reassuring).on(g -> g.hearing().rise()).second(),
        near);
  }

  private static Votes votes(List<GaugeIndicator> of) {
    return new Votes(of, Math.min(2, Math.max(1, of.size())));
  }

  private Levels levels(
      Moment moment, List<GaugeIndicator> reassuring, List<GaugeIndicator> alarming) {
    GaugeIndicator lowest = null;
    GaugeIndicator highest = null;
    boolean sound = anySound(alarming);
    for (GaugeIndicator g : alarming) {
      boolean own = sound && g.range().wild();
      boolean leapt = sound && g.range().leap() > 0;
      lowest = !own && (lowest == null || g.level() < lowest.level()) ? g : lowest;
      highest = !own && !leapt && (highest == null || g.level() > highest.level()) ? g : highest;
    }
    return new Levels(
        votes(reassuring).on(GaugeIndicator::level).reached(),
        lowest == null ? Double.NaN : lowest.level(),
        lowest == null ? "" : lowest.gauge(),
        highest == null ? Double.NaN : highest.level(),
        highest == null ? "" : highest.gauge(),
        moment.bands().intactLowKPa(),
        moment.bands().leakHighKPa(),
        moment.bands().ceilingKPa(),
        apart(lowest, highest));
  }

  /** Whether one that can be believed has moved as a well can, so that it judges the others. */
  private static boolean anySound(List<GaugeIndicator> alarming) {
    for (GaugeIndicator g : alarming) {
      if (g.trust().reassures() && !g.range().wild() && g.range().leap() == 0) {
        return true;
      }
    }
    return false;
  }

  private String apart(@Nullable GaugeIndicator lowest, @Nullable GaugeIndicator highest) {
    for (WatchedPair pair : pairs) {
      if (lowest != null && highest != null && pair.excess() > pair.bound()) {
        return "The gauges disagree; this is by " + lowest.gauge() + ", which reads lowest.";
      }
    }
    return "";
  }

  private static Losses losses(
      Moment moment, List<GaugeIndicator> reassuring, List<GaugeIndicator> alarming, int votes) {
    Votes lost = new Votes(alarming, votes).on(g -> g.fall().lost());
    Votes sum = new Votes(alarming, votes).on(g -> g.shortfall().shortSum());
    Votes decline = votes(reassuring).on(g -> g.course().decline());
    Votes once = new Votes(alarming, votes);
    double reached = sum.reached();
    return new Losses(
        lost.reached(),
        lost.largest(),
        heldTo(alarming, lost.reached()),
        once.on(g -> g.fall().quick()).reached(),
        once.on(g -> g.fall().usual()).largest(),
        once.on(g -> g.fall().spanS()).largest(),
        reached,
        sum.largest(),
        once.on(g -> g.shortfall().usualPeak()).largest(),
        once.on(g -> g.shortfall().usualSwing()).largest(),
        shortSince(alarming, reached),
        once.on(g -> -g.shortfall().departure()).reached(),
        once.on(g -> g.shortfall().below()).reached(),
        decline.reached(),
        decline.largest(),
        votes(reassuring).on(g -> g.course().sureDecline()).reached(),
        votes(reassuring).on(g -> g.course().declineError()).largest(),
        moment.tide());
  }

  /** Until when those that lost so much held their level; -1 when none lost it. */
  private static long heldTo(List<GaugeIndicator> alarming, double reached) {
    long latest = -1;
    for (GaugeIndicator g : alarming) {
      if (g.fall().lost() >= reached) {
        latest = Math.max(latest, g.fall().heldToMs());
      }
    }
    return latest;
  }

  /** Since when those that reach the sum have fallen short; -1 when none has. */
  private static long shortSince(List<GaugeIndicator> alarming, double reached) {
    long latest = -1;
    for (GaugeIndicator g : alarming) {
      if (g.shortfall().shortSum() >= reached) {
        latest = Math.max(latest, g.shortfall().shortSinceMs());
      }
    }
    return latest;
  }

  private LowTime lowTime(long atMs, Levels levels, long lowFromMs, List<GaugeIndicator> alarming) {
    long periodMs = 0;
    double slope = Double.NaN;
    double error = Double.NaN;
    for (GaugeIndicator g : alarming) {
      periodMs = Math.max(periodMs, Math.round(g.periodS() * 1000));
      if (g.gauge().equals(levels.lowestGauge())) {
        slope = g.course().rising();
        error = g.course().risingError();
      }
    }
    low.accept(atMs, levels.lowest(), levels.leakHigh(), levels.intactLow(), lowFromMs, periodMs);
    return low.now(slope, error);
  }

  private static CeilingTimes ceilingTimes(Moment moment, List<GaugeIndicator> reassuring) {
    Votes seconds = votes(reassuring).on(g -> g.ceiling().seconds());
    return new CeilingTimes(
        seconds.under(),
        seconds.least(),
        votes(reassuring).on(g -> g.ceiling().soonest()).least(),
        votes(reassuring).on(g -> g.ceiling().latest()).largest(),
        moment.holdPointS());
  }
}
