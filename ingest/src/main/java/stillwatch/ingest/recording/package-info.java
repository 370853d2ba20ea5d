/**
 * Recordings as a source of the log: CSV files read row by row into the same telemetry that live
 * gauges give.
 */
@NullMarked
package stillwatch.ingest.recording;

import org.jspecify.annotations.NullMarked;
