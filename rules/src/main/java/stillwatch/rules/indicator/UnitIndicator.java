package stillwatch.rules.indicator;

/**
 * Whether a unit that takes the flow of a reopened well collects.
 *
 * @param well the well's id
 * @param nowMs log time
 * @param unit its name in the plan
 * @param lost whether it was last said not to collect
 * @param reopening whether the well is being opened again
 * @param atMs since when it is so, source's time
 * @param balance what is left against what would flow, one sentence without its stop
 */
public record UnitIndicator(
    String well,
    long nowMs,
    String unit,
    boolean lost,
    boolean reopening,
    long atMs,
    String balance) {}
