package stillwatch.alerts.desk;

import java.util.Locale;
import java.util.Optional;

/** What can happen to an alarm after it was raised; each is an entry of the record. */
public enum AlarmEvent {
  /** Its condition is over. */
  RETURNED,
  /** Somebody acknowledged it. */
  ACKNOWLEDGED,
  /** Its condition lasts, long after it was acknowledged. */
  RE_ALARMED,
  /** Somebody reset it after it latched. */
  RESET,
  /** The same point was raised again while nobody had acknowledged the last time. */
  RAISED_AGAIN,
  /** Somebody put it aside for a time. */
  SHELVED,
  /** The plan suppresses it in this phase. */
  SUPPRESSED,
  /** It was taken out of service. */
  REMOVED,
  /** It is no longer held back. */
  RESTORED;

  /** Its name in the record. */
  public String wire() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** The event of this name in the record; empty when it is none. */
  static Optional<AlarmEvent> of(String wire) {
    for (AlarmEvent e : values()) {
      if (e.wire().equals(wire)) {
        return Optional.of(e);
      }
    }
    return Optional.empty();
  }
}
