package stillwatch.rules.finding;

/**
 * How far the rules have read a well's log: their sign of life.
 *
 * @param well the well's id
 * @param logMs the reception time of the last entry read, ms since 1970 UTC
 * @param sentMs when this was sent, sender's clock, ms since 1970 UTC
 */
public record Progress(String well, long logMs, long sentMs) {}
