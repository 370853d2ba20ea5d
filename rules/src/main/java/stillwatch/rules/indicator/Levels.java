package stillwatch.rules.indicator;

/**
 * Levels of a group and what the plan says of them, in the base unit; NaN where not known. The
 * lowest and the highest are those of every gauge that may raise an alarm, so that two gauges apart
 * are judged on both.
 *
 * @param level the level that at least so many as must agree reach, of those that reassure
 * @param lowest the lowest
 * @param lowestGauge whose that is; empty where there is none
 * @param highest the highest
 * @param highestGauge whose that is; empty where there is none
 * @param intactLow lower edge of the intact band now
 * @param leakHigh upper edge of the leak band now
 * @param ceiling the ceiling
 * @param apart how the two stand apart, for people; empty when they agree
 */
public record Levels(
    double level,
    double lowest,
    String lowestGauge,
    double highest,
    String highestGauge,
    double intactLow,
    double leakHigh,
    double ceiling,
    String apart) {}
