package stillwatch.rules.indicator;

/**
 * What a gauge showed of the last closure step.
 *
 * @param well the well's id
 * @param gauge the gauge's id; the well's id for what all of them showed
 * @param nowMs log time
 * @param stepMs when the step was taken, source's time
 * @param sinceS how long ago that is, seconds
 * @param readingsS how long three readings take, seconds
 * @param moved how far the gauge has moved since, kPa, either way; NaN when not known
 * @param least how far it must move at least to count as an answer, kPa
 * @param others how many of the others answered
 * @param operation the step, for people
 */
public record StepIndicator(
    String well,
    String gauge,
    long nowMs,
    long stepMs,
    double sinceS,
    double readingsS,
    double moved,
    double least,
    int others,
    String operation) {}
