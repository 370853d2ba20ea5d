package stillwatch.rules.signal;

import java.util.function.ToLongFunction;
import stillwatch.rules.signal.CommonMovement.Beside;

/**
 * Whether a gauge shows the movement that another series shows: noise proves the electronics of a
 * gauge, not that its port is open to the well. Increments of block means are compared at two
 * scales, a minute and ten minutes (three cadences where these are longer), over the newest 20 and
 * 18 increments, in units of their own noise, which is learned from the scatter of the readings. At
 * the longer scale what is left of six hours, half a tide, beside a parabola of each is compared as
 * well: two that feel one tide show it also while one of them drifts. Where a gauge feels only an
 * unknown share of the other's movement beside a course of its own, as one in the well feels the
 * sea's tide, half hours over a day are compared instead, after a cubic has been taken out: over
 * less, a tide and what is left of a build-up bend alike.
 *
 * <p>The limits are common practice, no source: movement of the other counts beyond 6 deviations of
 * the difference of two block means; common movement is proven beyond 5 deviations with a gain
 * between 0.5 and 2 (between 0 and 1.2 for a share), beside a drift beyond 4 deviations; a movement
 * is missed when the gain is under 0.2 and half of it is ruled out by 3 deviations. Each is dated
 * by the start of the shortest stretch up to now that shows it, for a share by its middle. Not
 * thread-safe.
 */
public final class Response {
  private static final long MINUTE_MS = 60_000;
  private static final int SHORT = 20;
  private static final int LONG = 18;
  private static final int HALF_TIDE = 36;
  private static final int LEAST_BESIDE_DRIFT = 12;
  private static final int DAY = 50;
  private static final int LEAST_OF_DAY = 48;

  private final double ownLeast;
  private final double otherLeast;
  private final Scatter ownScatter;
  private final Scatter otherScatter;
  private final CommonMovement[] scales;
  private long lastMs = Long.MIN_VALUE;

  private Response(long cadenceMs, double ownLeast, double otherLeast, CommonMovement... scales) {
    this.ownLeast = ownLeast;
    this.otherLeast = otherLeast;
    this.scales = scales;
    ownScatter = new Scatter(4 * cadenceMs);
    otherScatter = new Scatter(4 * cadenceMs);
  }

  /**
   * The response of a gauge that should show all of the other's movement, as its twin does.
   *
   * @param cadenceMs the usual time between values, ms
   * @param ownLeast the least deviation of an own block mean, in its unit: its resolution over √12
   *     (GUM 2008, 4.3.7) or, where known, how it wanders by itself
   * @param otherLeast the same of the other series
   */
  public static Response full(long cadenceMs, double ownLeast, double otherLeast) {
    return new Response(
        cadenceMs,
        ownLeast,
        otherLeast,
        new CommonMovement(Math.max(MINUTE_MS, 3 * cadenceMs), SHORT, 1, Beside.NOTHING),
        new CommonMovement(Math.max(10 * MINUTE_MS, 3 * cadenceMs), LONG, 1, Beside.NOTHING),
        new CommonMovement(
            Math.max(10 * MINUTE_MS, 3 * cadenceMs), HALF_TIDE, LEAST_BESIDE_DRIFT, Beside.DRIFT));
  }

  /**
   * The response of a gauge that feels an unknown share; known after a day. Arguments as for a full
   * one.
   */
  public static Response partial(long cadenceMs, double ownLeast, double otherLeast) {
    return new Response(
        cadenceMs,
        ownLeast,
        otherLeast,
        new CommonMovement(
            Math.max(30 * MINUTE_MS, 3 * cadenceMs), DAY, LEAST_OF_DAY, Beside.COURSE));
  }

  /**
   * Takes the levels of one time; nothing is learned when one is NaN or the time is not later.
   *
   * @param ownReading the reading behind the own level, which tells its noise: a level is smoothed
   *     already, and its scatter says too little of how uncertain a mean of many is
   * @param otherReading the reading behind the other's level
   */
  public void accept(long atMs, double own, double other, double ownReading, double otherReading) {
    if (Double.isNaN(own) || Double.isNaN(other) || atMs <= lastMs) {
      return;
    }
    lastMs = atMs;
    ownScatter.accept(atMs, ownReading);
    otherScatter.accept(atMs, otherReading);
    double ownSigma = ownScatter.sigma();
    double otherSigma = otherScatter.sigma();
    for (CommonMovement scale : scales) {
      if (scale.accept(atMs, own, other) && !Double.isNaN(ownSigma)) {
        scale.judge(ownSigma, ownLeast, otherSigma, otherLeast);
      }
    }
  }

  /** The values of before have nothing to do with those to come; what was proven stays dated. */
  public void restart() {
    for (CommonMovement scale : scales) {
      scale.restart();
    }
  }

  /**
   * The share of the other's movement that the gauge showed lately, at the scale at which the other
   * moved farther beyond its noise; NaN when it did at neither.
   */
  public double gain() {
    CommonMovement best = scales[0];
    for (CommonMovement scale : scales) {
      best = scale.moved() > best.moved() ? scale : best;
    }
    return best.gain();
  }

  /** Source's time when common movement was last proven; {@link Long#MIN_VALUE} when never. */
  public long provenMs() {
    return last(CommonMovement::provenMs);
  }

  /**
   * Source's time when the gauge last missed a movement of the other; {@link Long#MIN_VALUE} when
   * never, and always for a partial response, of which nobody knows how much it should show.
   */
  public long missedMs() {
    return last(CommonMovement::missedMs);
  }

  /** When the gauge last missed a rise of the other, as {@link #missedMs()}. */
  public long missedRiseMs() {
    return last(CommonMovement::missedRiseMs);
  }

  private long last(ToLongFunction<CommonMovement> date) {
    long last = Long.MIN_VALUE;
    for (CommonMovement scale : scales) {
      last = Math.max(last, date.applyAsLong(scale));
    }
    return last;
  }
}
