/**
 * One well watched: telemetry in, findings out. Start at {@link stillwatch.rules.watch.WellWatch}.
 */
@NullMarked
package stillwatch.rules.watch;

import org.jspecify.annotations.NullMarked;
