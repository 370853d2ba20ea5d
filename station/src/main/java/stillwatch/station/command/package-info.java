/**
 * The commands, a class for each. A command reads its options, makes what it needs of them and
 * waits or prints; it works nothing out itself. Knows all other rooms, known by none but the
 * command line.
 */
@NullMarked
package stillwatch.station.command;

import org.jspecify.annotations.NullMarked;
