package stillwatch.rules.watch;

import java.util.LinkedHashMap;
import java.util.Map;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.signal.Response;

/** What a gauge shows of the movements of those beside it. Times are the source's. */
final class Responses {
  private static final long NEVER = Long.MIN_VALUE / 2;

  private final WatchedGauge gauge;
  private final Map<WatchedGauge, Response> beside = new LinkedHashMap<>();
  private long provenMs = NEVER;
  private long missedMs = Long.MIN_VALUE;
  private long missedRiseMs = Long.MIN_VALUE;

  Responses(WatchedGauge gauge) {
    this.gauge = gauge;
  }

  /** Judges from now on whether it shows what another gauge shows. */
  void compareWith(WatchedGauge other) {
    long cadenceMs = Math.max(WellWatch.CADENCE_MS, Math.max(gauge.periodMs(), other.periodMs()));
    boolean partly = other.plan.role() == GaugePlan.Role.AMBIENT;
    beside.put(
        other,
        partly
            ? Response.partial(cadenceMs, least(gauge), least(other))
            : Response.full(cadenceMs, least(gauge), least(other)));
  }

  private static double least(WatchedGauge g) {
    GaugePlan plan = g.plan;
    return Math.max(plan.resolution() / Math.sqrt(12), plan.accuracy() / 2000); // GUM 2008, 4.3.7
  }

  /** Takes in how it went beside those that deliver. */
  void compare(long nowMs) {
    beside.forEach(
        (other, response) -> {
          if (set(gauge) || set(other)) {
            response.restart(); // a gauge that was set anew is no movement of the well
          } else if (other.fresh(nowMs) && !other.track.waiting()) {
            response.accept(
                Math.max(gauge.track.lastAtMs(), other.track.lastAtMs()),
                gauge.track.level(),
                other.track.level(),
                gauge.track.lastValue(),
                other.track.lastValue());
          }
          Response back = other.responses().beside.get(gauge);
          provenMs = Math.max(provenMs, response.provenMs());
          provenMs = back == null ? provenMs : Math.max(provenMs, back.provenMs()); // both moved
          missedMs = Math.max(missedMs, response.missedMs());
          missedRiseMs = Math.max(missedRiseMs, response.missedRiseMs());
        });
  }

  /** Whether it has lately moved from one reading to the next as no well does that fast. */
  private static boolean set(WatchedGauge g) {
    return g.track.leapt()
        || (g.periodMs() <= 2000 && g.track.jumpedBy() > Math.max(g.plan.accuracy(), 0.5));
  }

  /** What was compared before has nothing to do with what follows. */
  void restart() {
    beside.values().forEach(Response::restart);
  }

  /** When it last showed what another showed, or another what it showed; long ago when never. */
  long provenMs() {
    return provenMs;
  }

  /** When it last missed a movement of another; {@link Long#MIN_VALUE} when never. */
  long missedMs() {
    return missedMs;
  }

  /** When it last missed a rise of another; {@link Long#MIN_VALUE} when never. */
  long missedRiseMs() {
    return missedRiseMs;
  }
}
