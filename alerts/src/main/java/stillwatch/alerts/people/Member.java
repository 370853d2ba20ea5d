package stillwatch.alerts.people;

/**
 * Somebody who may enter by name and password.
 *
 * @param person who, and what they may do
 * @param invitedBy who made the link they came in by; empty when the watch did
 * @param sinceMs when they came in, ms since 1970 UTC
 */
public record Member(Person person, String invitedBy, long sinceMs) {}
