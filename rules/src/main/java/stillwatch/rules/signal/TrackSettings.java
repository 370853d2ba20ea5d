package stillwatch.rules.signal;

import stillwatch.ingest.unit.Kind;

/**
 * What a track must know of its gauge, in the base unit of its kind.
 *
 * @param kind what it measures
 * @param low readings below are outside physics
 * @param high readings above are outside physics
 * @param resolution its smallest step; 0 when not known
 * @param accuracy how far two good gauges may stand from the truth
 * @param pace how often it reads
 */
public record TrackSettings(
    Kind kind, double low, double high, double resolution, double accuracy, Pace pace) {}
