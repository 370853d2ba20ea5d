/** Telemetry as bytes on the log, and back. */
@NullMarked
package stillwatch.ingest.wire;

import org.jspecify.annotations.NullMarked;
