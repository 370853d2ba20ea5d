/** How soon an alert is on every open page, and what a flood of them does to the room. */
@NullMarked
package stillwatch.bench.room;

import org.jspecify.annotations.NullMarked;
