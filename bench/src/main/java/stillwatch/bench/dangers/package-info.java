/**
 * The dangers a watch must see and the noises it must not cry at, on closed forms that share no
 * physics with the rules or the drill. Start at {@link stillwatch.bench.dangers.Dangers}.
 */
@NullMarked
package stillwatch.bench.dangers;

import org.jspecify.annotations.NullMarked;
