/** A finite log run through the watch as fast as the machine allows. */
@NullMarked
package stillwatch.rules.replay;

import org.jspecify.annotations.NullMarked;
