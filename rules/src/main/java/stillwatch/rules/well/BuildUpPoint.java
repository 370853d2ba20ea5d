package stillwatch.rules.well;

/**
 * A point of a build-up.
 *
 * @param hours time since the shut-in
 * @param pressure the pressure then
 * @param abscissa superposition time then, log10 cycles
 */
public record BuildUpPoint(double hours, double pressure, double abscissa) {}
