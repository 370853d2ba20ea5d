/**
 * Small streaming estimators, each constant in time per reading and in memory whatever its horizon,
 * and the tracks made of them. Start at {@link stillwatch.rules.signal.GaugeTrack}. Knows nothing
 * of plans, rules or engines.
 */
@NullMarked
package stillwatch.rules.signal;

import org.jspecify.annotations.NullMarked;
