package stillwatch.rules.indicator;

/**
 * A change on the account of the well, as it stands now.
 *
 * @param well the well's id
 * @param change its id
 * @param sense the sense that reported it
 * @param nowMs log time
 * @param atMs the newest source's time
 * @param onsetMs when it began, source's time
 * @param open nothing and nobody has explained it, and it has not come back
 * @param size how much is lost now of what stood before it, in the sense's unit; negative is gained
 * @param told how much was lost when an alarm told it that is as urgent and still stands; NaN while
 *     none does
 * @param peak the most that was lost
 * @param before the level before it
 * @param level the level now
 * @param ageS seconds since its onset
 * @param gauges the gauges that felt it, separated by commas
 * @param priority the priority of the worst explanation that is still credible
 * @param seen who sees it and who does not, for people
 * @param evidence what speaks for and against, for people
 * @param closed how it was closed, for people; empty while it is open
 */
public record ChangeIndicator(
    String well,
    String change,
    String sense,
    long nowMs,
    long atMs,
    long onsetMs,
    boolean open,
    double size,
    double told,
    double peak,
    double before,
    double level,
    double ageS,
    String gauges,
    String priority,
    String seen,
    String evidence,
    String closed) {}
