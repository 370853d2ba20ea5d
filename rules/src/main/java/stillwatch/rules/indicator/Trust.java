package stillwatch.rules.indicator;

/**
 * How far a gauge can be believed, and why not.
 *
 * @param reassures it has delivered a reading and no rule that excludes gauges stands against it
 * @param alarms what it sees may raise an alarm: it has delivered lately, moves as a living gauge
 *     does and reads nothing impossible, whatever else is said against it
 * @param odd its twins contradict it
 * @param oddWhy how, for people
 * @param calmTwin a twin of it reassures and does not go to and fro more than usual
 * @param provenMs when it last showed that it feels the well, source's time; 0 when never
 * @param missedS for how long it has missed what another gauge of the well showed, seconds; 0 when
 *     it has missed nothing since it was last proven
 * @param unit the unit it seems to speak instead of its own; empty when its own
 * @param belowSea it reads less than the sea's own pressure there
 * @param lowest its level, or where readings that wait have gone if that is lower
 */
public record Trust(
    boolean reassures,
    boolean alarms,
    boolean odd,
    String oddWhy,
    boolean calmTwin,
    long provenMs,
    double missedS,
    String unit,
    boolean belowSea,
    double lowest) {}
