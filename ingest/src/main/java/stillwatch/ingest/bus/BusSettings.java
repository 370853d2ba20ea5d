package stillwatch.ingest.bus;

import java.util.Map;

/**
 * How to reach the broker.
 *
 * @param bootstrap host:port, several separated by commas
 * @param client Kafka client properties passed through untouched, for example TLS and SASL
 */
public record BusSettings(String bootstrap, Map<String, String> client) {}
