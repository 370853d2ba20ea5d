/** How full the disk is that holds the data, and what is kept back for when it is full. */
@NullMarked
package stillwatch.ingest.disk;

import org.jspecify.annotations.NullMarked;
