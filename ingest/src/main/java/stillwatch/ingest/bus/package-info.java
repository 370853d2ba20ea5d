/**
 * The broker's door: the only package that imports Kafka clients. Topics, writing with
 * acknowledgement, reading in order.
 */
@NullMarked
package stillwatch.ingest.bus;

import org.jspecify.annotations.NullMarked;
