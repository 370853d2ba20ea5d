package stillwatch.rules.indicator;

/**
 * Something that is or was near the well: a vessel, a vehicle in the water, running pumps.
 *
 * @param what its sort: vessel, rov, pumping
 * @param text what was last logged of it
 * @param nowMs log time
 * @param fromMs since when
 * @param there whether it counts as there now
 * @param stayS how long since it came, seconds
 * @param unendedS for how long it no longer counts as there though nobody logged its end, seconds;
 *     negative before that, minus infinity when its end was logged
 */
public record PresenceIndicator(
    String what,
    String text,
    long nowMs,
    long fromMs,
    boolean there,
    double stayS,
    double unendedS) {}
