/**
 * Leaving for weather as the log shows it: who watches the well from shore, the forecast that
 * counts, and the hours that test and reopening still need. Start at {@link
 * stillwatch.rules.leaving.Leaving}.
 */
@NullMarked
package stillwatch.rules.leaving;

import org.jspecify.annotations.NullMarked;
