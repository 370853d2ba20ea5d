/** What the tracks say at a steady cadence: the few events the rule book works on. */
@NullMarked
package stillwatch.rules.indicator;

import org.jspecify.annotations.NullMarked;
