/**
 * The rule book at work: the only package that imports Esper. One runtime a well, an external
 * clock, verdicts out.
 */
@NullMarked
package stillwatch.rules.engine;

import org.jspecify.annotations.NullMarked;
