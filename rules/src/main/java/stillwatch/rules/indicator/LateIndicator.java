package stillwatch.rules.indicator;

/**
 * What became of a gauge during an outage, told when readings come again, and when its backlog has
 * been read.
 *
 * @param well the well's id
 * @param gauge the gauge's id
 * @param kind what it measures
 * @param role what it senses
 * @param nowMs log time
 * @param fromMs the last reading before the outage or, of a backlog, its first, source's time
 * @param toMs when the outage ended
 * @param onsetMs when the largest change in it began
 * @param change the largest change from the level before the outage, in the gauge's unit: negative
 *     is a fall
 * @param over it has been told and may be put away
 * @param left how the level now stands to that before the outage
 */
public record LateIndicator(
    String well,
    String gauge,
    String kind,
    String role,
    long nowMs,
    long fromMs,
    long toMs,
    long onsetMs,
    double change,
    boolean over,
    double left) {}
