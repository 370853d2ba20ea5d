package stillwatch.alerts.series;

import java.util.Map;

/**
 * Several gauges over the same columns of time, in base units.
 *
 * @param fromMs start of the first column, ms since 1970 UTC
 * @param columnMs width of a column
 * @param lows lowest value by gauge, one a column; NaN where there is none
 * @param highs highest value by gauge, likewise
 */
public record Columns(
    long fromMs, long columnMs, Map<String, double[]> lows, Map<String, double[]> highs) {}
