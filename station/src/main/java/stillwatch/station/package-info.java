/**
 * One process of Stillwatch. Start at {@link stillwatch.station.Main}, which hands each command its
 * arguments and tells what went wrong. Below it are commands, their options, what runs behind them
 * and what they write; only these packages write to the console, and none imports this one.
 */
@NullMarked
package stillwatch.station;

import org.jspecify.annotations.NullMarked;
