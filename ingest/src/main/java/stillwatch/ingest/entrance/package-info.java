/** What whoever comes by HTTP is held to, the same at every door. */
@NullMarked
package stillwatch.ingest.entrance;

import org.jspecify.annotations.NullMarked;
