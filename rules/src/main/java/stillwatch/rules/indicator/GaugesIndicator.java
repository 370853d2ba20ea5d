package stillwatch.rules.indicator;

import java.util.List;

/**
 * What every gauge and every pair says at one moment. Sent before the {@link WellIndicator} of the
 * same moment, so that rules about gauges have had their turn when rules about the well ask whom to
 * trust. Each gauge and each pair is an event of its own, sent just before it: a rule takes one
 * after the other with {@code from GaugeIndicator} or {@code from PairIndicator}.
 *
 * @param well the well's id
 * @param nowMs log time
 * @param gauges each gauge, in the plan's order
 * @param pairs pairs whose gauges are both fresh; none when said between two steps of the cadence
 */
public record GaugesIndicator(
    String well, long nowMs, List<GaugeIndicator> gauges, List<PairIndicator> pairs) {}
