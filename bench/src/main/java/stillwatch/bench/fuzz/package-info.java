/**
 * Everything that is read from outside, mutated by seed: nothing may end in anything but a refusal.
 */
@NullMarked
package stillwatch.bench.fuzz;

import org.jspecify.annotations.NullMarked;
