package stillwatch.alerts.series;

import stillwatch.ingest.telemetry.Quality;

/**
 * The newest word of a gauge.
 *
 * @param value in the base unit of its kind; NaN where it only said that it has none
 * @param quality how far its source trusts it
 * @param atMs the source's time, ms since 1970 UTC
 * @param receivedMs the time of reception
 */
public record LastWord(double value, Quality quality, long atMs, long receivedMs) {}
