package stillwatch.rules.indicator;

/**
 * What the gauges of the shut-in pressure showed of the last closure step.
 *
 * @param well the well's id
 * @param group the gauges' group
 * @param nowMs log time
 * @param stepMs when the step was taken, source's time
 * @param sinceS how long ago that is, seconds
 * @param readingsS how long three readings of the slowest gauge take, seconds
 * @param moved how far the one that moved most has moved since, kPa, either way; NaN when not known
 * @param least how far a gauge must move at least to count as an answer, kPa
 * @param step the step, for people
 */
public record StepIndicator(
    String well,
    String group,
    long nowMs,
    long stepMs,
    double sinceS,
    double readingsS,
    double moved,
    double least,
    String step) {}
