package stillwatch.ingest.telemetry;

/** Time has passed: written by the intake once a second per well, even when no gauge speaks. */
public record Pulse(String well, long atMs, long receivedMs) implements Telemetry {}
