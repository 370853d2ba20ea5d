/** What a crowd at the door does to the watch behind it; all on this machine's own address. */
@NullMarked
package stillwatch.bench.entrance;

import org.jspecify.annotations.NullMarked;
