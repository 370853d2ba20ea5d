package stillwatch.alerts.people;

import org.jspecify.annotations.Nullable;

/**
 * A link by which somebody may enter once, or the token of a machine.
 *
 * @param digest the SHA-256 of its secret, 64 hex digits; the secret itself is kept nowhere
 * @param name the machine's name; empty for a link
 * @param role what whoever has it may do
 * @param once whether it is a link
 * @param untilMs when it ends, ms since 1970 UTC; null when somebody must end it
 * @param madeBy who made it; empty when the watch did
 * @param madeMs when
 */
public record Pass(
    String digest,
    String name,
    Role role,
    boolean once,
    @Nullable Long untilMs,
    String madeBy,
    long madeMs) {
  private static final int SHORT = 12;

  /** The first digits of the digest, enough to tell this pass from the others. */
  public String id() {
    return digest.substring(0, SHORT);
  }

  /** Whether the pass is valid at this time. */
  boolean holds(long nowMs) {
    return untilMs == null || untilMs >= nowMs;
  }
}
