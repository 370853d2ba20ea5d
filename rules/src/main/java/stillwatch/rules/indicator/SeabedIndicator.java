package stillwatch.rules.indicator;

/**
 * A thing on the seabed beside what was seen before the closing; or a means of looking, whether any
 * pass by it was before the closing.
 *
 * @param well the well's id
 * @param nowMs log time
 * @param about {@code thing} or {@code means}
 * @param subject the means, and the thing's name
 * @param state of a thing its comparison, for example {@code new}; of a means {@code none-before}
 *     or {@code compared}
 * @param atMs when the pass that shows it first was, source's time
 * @param why one sentence without its stop
 */
public record SeabedIndicator(
    String well, long nowMs, String about, String subject, String state, long atMs, String why) {}
