/**
 * Drills: recordings of invented wells, made from a scenario. Start at {@link
 * stillwatch.rules.drill.Drill}.
 */
@NullMarked
package stillwatch.rules.drill;

import org.jspecify.annotations.NullMarked;
