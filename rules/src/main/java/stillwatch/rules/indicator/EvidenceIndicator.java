package stillwatch.rules.indicator;

/**
 * One sense that now speaks for a leak. Two gauges on one line, or two rules about the same
 * pressure, are one sense.
 *
 * @param sense pressure, sound, heat, seafloor, or what a rule of the user's own names
 * @param rule the first rule that saw it
 * @param sinceMs since when, the rule's onset
 * @param sinceS how long ago that is, seconds of log time
 */
public record EvidenceIndicator(String sense, String rule, long sinceMs, double sinceS) {}
