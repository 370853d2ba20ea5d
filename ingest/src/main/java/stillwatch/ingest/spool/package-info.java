/** What keeps telemetry on disk until the broker has it. */
@NullMarked
package stillwatch.ingest.spool;

import org.jspecify.annotations.NullMarked;
