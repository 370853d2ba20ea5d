/**
 * The cycles of a test as the log shows them: each closing against the plan's list, and the
 * pressures of the shut-in that follows. Start at {@link stillwatch.rules.closing.Cycles}.
 */
@NullMarked
package stillwatch.rules.closing;

import org.jspecify.annotations.NullMarked;
