package stillwatch.alerts.people;

import java.util.Locale;
import java.util.Optional;

/** What somebody may do; each of look, operate, administer may do what those before it may. */
public enum Role {
  /** For machines: send readings, see nothing. */
  FEED,
  /** See everything, change nothing. */
  LOOK,
  /** Handle alarms, enter what was done and seen, log decisions. */
  OPERATE,
  /** Take alarms out of service, invite and remove people, make tokens for machines. */
  ADMINISTER;

  /** The role's name for programs and people. */
  public String wire() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The role of this name; empty when there is none. */
  public static Optional<Role> of(String wire) {
    for (Role r : values()) {
      if (r.wire().equals(wire)) {
        return Optional.of(r);
      }
    }
    return Optional.empty();
  }

  /** Whether whoever has this role may do all that the other allows. */
  public boolean covers(Role other) {
    return this == other
        || (this != LOOK && other == FEED)
        || (this != FEED && compareTo(other) > 0);
  }
}
