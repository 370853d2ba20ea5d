package stillwatch.ingest.intake;

/**
 * Who sends telemetry.
 *
 * @param name a person's or a machine's name, or an address; it goes with what is refused
 * @param tells whether they may also tell what was done, seen, decided and explained
 */
public record Sender(String name, boolean tells) {}
