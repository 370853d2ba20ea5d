/**
 * Tries many limits on recordings with known happenings. Start at {@link
 * stillwatch.rules.tune.Tuning}.
 */
@NullMarked
package stillwatch.rules.tune;

import org.jspecify.annotations.NullMarked;
