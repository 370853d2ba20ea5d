/**
 * Ways in for readings that the process opens itself, by what the plan says under {@code sources}:
 * their contract, {@link stillwatch.ingest.door.Source}, and each of them. Start there.
 */
@NullMarked
package stillwatch.ingest.door;

import org.jspecify.annotations.NullMarked;
