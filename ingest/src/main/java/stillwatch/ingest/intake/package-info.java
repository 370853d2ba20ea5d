/**
 * The way in for live telemetry: checks, units, the time of reception, pulses, rejects, and the
 * HTTP door.
 */
@NullMarked
package stillwatch.ingest.intake;

import org.jspecify.annotations.NullMarked;
