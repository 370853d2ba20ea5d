package stillwatch.rules.watch;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.rules.indicator.Near;
import stillwatch.rules.plan.OperationLimit;
import stillwatch.rules.plan.OperationLimits;
import stillwatch.rules.signal.Fall;

/**
 * What was done to the well lately, and how large a fall of the shut-in pressure that explains:
 * only what such an operation can do, of the right sign, size and time. A closure step raises the
 * pressure, so a fall after it is the most suspicious there is, but for the small overshoot that
 * settles; an opening lowers it, as the plan's opening list has it ({@link OpeningSteps}); a valve
 * or a line-up may move it by what the plan allows, and it comes back. Presence near the well
 * explains no fall at all. What is stamped far ahead of its reception, or far behind, counts from
 * its reception and explains nothing. Not thread-safe.
 */
final class Effects {
  private static final int KEPT = 20;

  /** A fall that began so shortly before the logged time is still put down to the operation. */
  private static final long EARLY_MS = 5_000;

  /**
   * A fall of less than so many times what the sea's pressure swings by is the sea's: an earthquake
   * or a swell, of which gauges that read seldom see one end only (common practice, no source).
   */
  private static final double SWELL = 2;

  /** More than this no sea explains, kPa (common practice, no source). */
  private static final double MOST_SWELL_KPA = 500;

  /** So long somebody who has left still counts as near (common practice, no source). */
  private static final long LEAVES_MS = 10 * 60_000L;

  /** The same for a hydrophone that reads seldom, in its readings. */
  private static final int LEAVES_READINGS = 4;

  private static final long NEAR_MS = 30 * 60_000L;

  private final OperationLimits limits;
  private final TestProgress progress;
  private final Deque<Done> done = new ArrayDeque<>();
  private @Nullable Done step;

  /**
   * An operation that moved the well.
   *
   * @param levels the level of each gauge of the shut-in pressure then, kPa
   * @param moved how far each has moved since at most, either way, kPa; kept up to date
   */
  record Done(Move move, Map<WatchedGauge, Double> levels, Map<WatchedGauge, Double> moved) {}

  Effects(OperationLimits limits, TestProgress progress) {
    this.limits = limits;
    this.progress = progress;
  }

  /** Whether an operation of this kind changes what flows, so that slow courses begin again. */
  static boolean changesFlow(Operation.What what) {
    return what == Operation.What.CLOSURE_STEP || what == Operation.What.OPENING_STEP;
  }

  /** The progress has taken an operation that moves the well. */
  void moved(Operation operation, Gauges gauges) {
    Map<WatchedGauge, Double> levels = new LinkedHashMap<>();
    gauges.shutIn().forEach(g -> levels.put(g, g.track.level()));
    Done now = new Done(progress.move(operation), levels, new LinkedHashMap<>());
    done.addLast(now);
    if (done.size() > KEPT) {
      done.removeFirst();
    }
    boolean newest = step == null || now.move().atMs() >= step.move().atMs();
    if (newest && now.move().what() == Operation.What.CLOSURE_STEP) {
      step = now;
    }
  }

  /** The last closure step; null when there was none or the well is being opened again. */
  @Nullable Done step() {
    return progress.reopening() ? null : step;
  }

  /** What is near this moment. */
  Near near(long atMs, long nowMs, Gauges gauges) {
    WatchedGauge sea = gauges.ambient(nowMs);
    Done last = done.peekLast();
    Done opening = opening();
    return new Near(
        allowed(atMs, gauges),
        sea == null ? 0 : Math.min(MOST_SWELL_KPA, SWELL * sea.track.swung()),
        last == null ? "" : last.move().words(),
        last == null ? Double.POSITIVE_INFINITY : Math.max(0, atMs - last.move().atMs()) / 1000.0,
        last == null ? Double.NaN : fallen(last),
        presence(nowMs, gauges),
        progress.falls(),
        opening == null ? Double.NaN : agreed(opening, nowMs),
        opening == null ? Double.POSITIVE_INFINITY : progress.opening().explained(atMs),
        opening == null ? "" : opening.move().words());
  }

  private double allowed(long atMs, Gauges gauges) {
    OpeningSteps opening = progress.opening();
    if (progress.falls() && !opening.listed()) {
      return Double.POSITIVE_INFINITY;
    }
    boolean underWay = opening.underWay();
    double allowed = underWay ? opening.suddenly(atMs, lostWithinS(atMs, gauges)) : 0;
    for (Done d : done) {
      boolean told = underWay && d.move().what() == Operation.What.OPENING_STEP;
      if (d.move().believed() && !told) {
        allowed = Math.max(allowed, allowed(d, atMs, gauges));
      }
    }
    return allowed;
  }

  /** How long ago those that lost something held their level last, the longest, s. */
  private static double lostWithinS(long atMs, Gauges gauges) {
    double within = 0;
    for (WatchedGauge g : gauges.shutIn()) {
      Fall fall = g.track.fall();
      within = fall.lost() > 0 ? Math.max(within, (atMs - fall.heldToMs()) / 1000.0) : within;
    }
    return within;
  }

  /** The last step of the opening that is under way; null when none can be believed. */
  private @Nullable Done opening() {
    if (!progress.opening().underWay()) {
      return null;
    }
    long lastMs = progress.opening().lastMs();
    for (Done d : done) {
      if (d.move().what() == Operation.What.OPENING_STEP && d.move().atMs() == lastMs) {
        return d;
      }
    }
    return null;
  }

  /** How far those that agree have fallen since: two of those that can see, or the one left. */
  private static double agreed(Done d, long nowMs) {
    double[] fallen =
        d.levels().entrySet().stream()
            .filter(e -> e.getKey().alarms(nowMs))
            .mapToDouble(e -> e.getValue() - e.getKey().track.level())
            .filter(Double::isFinite)
            .sorted()
            .toArray();
    return fallen.length == 0 ? Double.NaN : fallen[Math.max(0, fallen.length - 2)];
  }

  private static double fallen(Done d) {
    double most = Double.NaN;
    for (Map.Entry<WatchedGauge, Double> e : d.levels().entrySet()) {
      double fallen = e.getValue() - e.getKey().track.level();
      most = Double.isFinite(fallen) && !(fallen <= most) ? fallen : most;
    }
    return most;
  }

  private double allowed(Done d, long atMs, Gauges gauges) {
    long since = atMs - d.move().atMs();
    long slowest = 0;
    for (WatchedGauge g : gauges.shutIn()) {
      slowest = Math.max(slowest, g.periodMs());
    }
    OperationLimit effect = limits.of(d.move().what()).orElse(null);
    if (effect == null || since < -EARLY_MS || since > effect.within().toMillis() + 3 * slowest) {
      return 0;
    }
    double rise = 0;
    for (Map.Entry<WatchedGauge, Double> e : d.levels().entrySet()) {
      double held = e.getKey().track.fall().held();
      rise = Double.isNaN(held) ? rise : Math.max(rise, held - e.getValue());
    }
    return effect.fallKPa(rise);
  }

  /** What was logged on the well within half an hour before a time; empty when nothing was. */
  String nearWords(long onsetMs) {
    String near = "";
    for (Done d : done) {
      long at = d.move().atMs();
      boolean about = onsetMs - at <= NEAR_MS && at - onsetMs <= EARLY_MS;
      near = about ? d.move().words() + " at " + Words.when(at, onsetMs) : near;
    }
    return near;
  }

  /** Until when the last operation's effect must have come back, log time. */
  long backByMs(long nowMs) {
    Done last = done.peekLast();
    Optional<Duration> returns =
        last == null || progress.reopening()
            ? Optional.empty()
            : limits.of(last.move().what()).flatMap(OperationLimit::returns);
    return returns.map(r -> nowMs + r.toMillis()).orElse(Long.MAX_VALUE);
  }

  /**
   * Who is near the well, for people; empty when nobody is. Who has left is named for a while: a
   * vessel is heard as it goes, and a rise of sound is judged over minutes.
   */
  String presence(long nowMs, Gauges gauges) {
    long leavesMs = Math.max(LEAVES_MS, LEAVES_READINGS * gauges.hydrophonePeriodMs());
    List<Presence> present = progress.presentLately(nowMs, leavesMs);
    return present.isEmpty()
        ? ""
        : present.stream()
            .map(
                p ->
                    named(p)
                        + (p.at(nowMs) ? "" : ", gone since " + Words.when(p.untilMs(), nowMs)))
            .collect(Collectors.joining(", "));
  }

  private static String named(Presence p) {
    return p.text().isEmpty() ? p.what().wire() : p.text();
  }
}
