/** What the sources of this artifact have in common. */
@NullMarked
package stillwatch.fieldbus;

import org.jspecify.annotations.NullMarked;
