package stillwatch.rules.signal;

/**
 * How a gauge goes to and fro, in its base unit; NaN where not known yet.
 *
 * @param noise standard deviation from reading to reading
 * @param jitter how much it goes to and fro now
 * @param usualJitter how much it usually does
 * @param spikes spikes in about the last ten minutes
 */
public record Noisiness(double noise, double jitter, double usualJitter, double spikes) {}
