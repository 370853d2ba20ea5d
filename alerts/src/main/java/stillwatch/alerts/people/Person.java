package stillwatch.alerts.people;

/**
 * Somebody, or a machine with a token.
 *
 * @param name as it stands in the record
 * @param role what they may do
 */
public record Person(String name, Role role) {}
