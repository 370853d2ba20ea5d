package stillwatch.rules.watch;

import stillwatch.rules.plan.Bands;
import stillwatch.rules.well.Estimate;

/**
 * What everything said at one moment has in common.
 *
 * @param well the well's id
 * @param nowMs log time
 * @param bands the plan's levels at this time after the shut-in
 * @param ambient the sea's pressure now, kPa; NaN where no gauge tells it
 * @param cooling what the facts expect the cooling to take off, kPa an hour; nothing where they say
 *     nothing
 * @param tide how the tide is taken out of slow slopes, for people
 * @param nobodyNear nobody is logged near the well whose sound could be taken for the well's
 * @param holdPointS when the next hold point is, seconds from now; infinite when none is set
 */
record Moment(
    String well,
    long nowMs,
    Bands bands,
    double ambient,
    Estimate cooling,
    String tide,
    boolean nobodyNear,
    double holdPointS) {}
