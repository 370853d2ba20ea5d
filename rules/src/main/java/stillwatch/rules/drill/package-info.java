/**
 * Drills: recordings of invented wells, made from a scenario. Start at {@link
 * stillwatch.rules.drill.Drill}. Everything here calculates with StrictMath and java.util.Random,
 * whose digits are the same on every Java.
 */
@NullMarked
package stillwatch.rules.drill;

import org.jspecify.annotations.NullMarked;
