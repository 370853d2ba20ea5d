/**
 * What edge nodes say by Eclipse Sparkplug 3.0, payload B: topics and payloads, read and, for the
 * one command that is sent, written. Start at {@link stillwatch.ingest.sparkplug.SparkplugPayload}.
 * Knows neither MQTT nor gauges.
 */
@org.jspecify.annotations.NullMarked
package stillwatch.ingest.sparkplug;
