/** What breaks around a watch, drawn by seed, and what the watch must still have kept and said. */
@NullMarked
package stillwatch.bench.faults;

import org.jspecify.annotations.NullMarked;
