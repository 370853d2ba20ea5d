package stillwatch.rules.book;

import java.util.Locale;

/** How urgent an alert is, lowest first (ISA-18.2: few alarms are of the highest priority). */
public enum Priority {
  /** Worth knowing; asks for no action. */
  INFORMATION,
  LOW,
  MEDIUM,
  HIGH;

  private final String wire = name().toLowerCase(Locale.ROOT);

  /** The name in outputs and files. */
  public String wire() {
    return wire;
  }

  /** Its rank in tables that are read in order of urgency, 0 for information. */
  @SuppressWarnings("EnumOrdinal") // tables keep it: the order above never changes
  public int rank() {
    return ordinal();
  }

  /** The priority with this name. */
  public static Priority of(String wire) {
    return valueOf(wire.toUpperCase(Locale.ROOT));
  }
}
