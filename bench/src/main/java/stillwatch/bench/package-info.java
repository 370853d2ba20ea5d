/** Benchmarks: figures and ratios of one run, never asserted. */
@NullMarked
package stillwatch.bench;

import org.jspecify.annotations.NullMarked;
