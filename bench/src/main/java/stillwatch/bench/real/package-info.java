/**
 * What the rules make of real gauges, as they are, read more seldom and with changes planted. Start
 * at {@link stillwatch.bench.real.Real}.
 */
@NullMarked
package stillwatch.bench.real;

import org.jspecify.annotations.NullMarked;
