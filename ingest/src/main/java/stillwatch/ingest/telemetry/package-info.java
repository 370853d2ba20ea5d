/**
 * The one ordered log of a well: {@link stillwatch.ingest.telemetry.Telemetry} and its eight
 * records. Knows nothing else.
 */
@NullMarked
package stillwatch.ingest.telemetry;

import org.jspecify.annotations.NullMarked;
