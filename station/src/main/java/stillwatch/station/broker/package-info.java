/** A real Kafka broker inside this process, for one machine alone. */
@NullMarked
package stillwatch.station.broker;

import org.jspecify.annotations.NullMarked;
