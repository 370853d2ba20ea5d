/**
 * Whether all is so that must be before the first step: the plan's conditions against the plan
 * itself, the log and the findings. Start at {@link stillwatch.rules.ready.Readiness}.
 */
@NullMarked
package stillwatch.rules.ready;

import org.jspecify.annotations.NullMarked;
