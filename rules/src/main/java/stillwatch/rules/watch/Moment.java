package stillwatch.rules.watch;

import stillwatch.rules.plan.Bands;
import stillwatch.rules.well.Estimate;

/**
 * What everything said at one moment has in common.
 *
 * @param well the well's id
 * @param nowMs log time
 * @param bands the plan's levels
 * @param ambient the sea's pressure now, kPa; NaN where no gauge tells it
 * @param cooling what the facts expect the cooling to take off, kPa an hour; nothing where they say
 *     nothing
 * @param tide how the tide is taken out of slow slopes, for people
 * @param operationAtMs when the well was last touched, source's time; {@link Long#MIN_VALUE} when
 *     never
 * @param operation what was done then
 * @param vesselMs when a vessel or vehicle near the well was last logged, log time; {@link
 *     Long#MIN_VALUE} when never
 * @param holdPointS when the next hold point is, seconds from now; infinite when none is set
 */
record Moment(
    String well,
    long nowMs,
    Bands bands,
    double ambient,
    Estimate cooling,
    String tide,
    long operationAtMs,
    String operation,
    long vesselMs,
    double holdPointS) {

  /** Seconds of the source's time since the well was last touched; infinite when never. */
  double sinceOperationS(long atMs) {
    return operationAtMs == Long.MIN_VALUE
        ? Double.POSITIVE_INFINITY
        : Math.max(0, atMs - operationAtMs) / 1000.0;
  }

  double sinceVesselS() {
    return vesselMs == Long.MIN_VALUE ? Double.POSITIVE_INFINITY : (nowMs - vesselMs) / 1000.0;
  }
}
