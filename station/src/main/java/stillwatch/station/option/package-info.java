/**
 * What commands have in common on the command line: each option is checked where it is read, and
 * refused in one sentence by {@link stillwatch.station.option.InputException}. Knows no other room.
 */
@NullMarked
package stillwatch.station.option;

import org.jspecify.annotations.NullMarked;
