package stillwatch.rules.account;

/**
 * A gauge that could have felt a change.
 *
 * @param gauge the gauge's id
 * @param felt it felt the change
 * @param before its level before the change, in its unit; NaN when not known
 * @param level its level now
 * @param tolerance within this of where it was, it counts as back: its accuracy
 * @param provenMs when it last showed that it feels the well, source's time; 0 when never
 * @param alarms what it sees may raise an alarm
 */
public record Witness(
    String gauge,
    boolean felt,
    double before,
    double level,
    double tolerance,
    long provenMs,
    boolean alarms) {}
