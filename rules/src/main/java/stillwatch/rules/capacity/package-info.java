/**
 * Whether the flow of a reopened well could be collected: capacity against flow with units lost,
 * and the probability that it holds. Start at {@link stillwatch.rules.capacity.CapacityStudy}.
 * Flows are m³/d, times days, inside.
 */
@NullMarked
package stillwatch.rules.capacity;

import org.jspecify.annotations.NullMarked;
