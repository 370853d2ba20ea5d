package stillwatch.rules.indicator;

/**
 * What comes out of a well that is being opened, beside what is collected.
 *
 * @param well the well's id
 * @param twin the group of the gauges of the shut-in pressure
 * @param nowMs log time
 * @param opened whether a step of the opening is logged
 * @param level the shut-in pressure that this is by, kPa
 * @param least what comes out at least, m³/d; NaN when not known
 * @param collected what is collected at most, m³/d
 * @param balance the one against the other, a part of a sentence
 */
public record CollectedIndicator(
    String well,
    String twin,
    long nowMs,
    boolean opened,
    double level,
    double least,
    double collected,
    String balance) {}
