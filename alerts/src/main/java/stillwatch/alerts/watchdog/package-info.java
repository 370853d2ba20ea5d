/** Distrusts everything upstream, on this machine's clock: silence is never good news. */
@NullMarked
package stillwatch.alerts.watchdog;

import org.jspecify.annotations.NullMarked;
