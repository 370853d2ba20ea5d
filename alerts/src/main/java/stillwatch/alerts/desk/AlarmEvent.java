package stillwatch.alerts.desk;

import java.util.Locale;
import java.util.Optional;

/** What can happen to an alarm after it was raised; each is an entry of the record. */
public enum AlarmEvent {
  /** The alarm's condition is over. */
  RETURNED,
  /** Somebody acknowledged the alarm. */
  ACKNOWLEDGED,
  /** The alarm's condition lasts, long after somebody acknowledged it. */
  RE_ALARMED,
  /** Somebody reset the alarm after it latched. */
  RESET,
  /** The alarm was raised again before anybody had acknowledged it. */
  RAISED_AGAIN,
  /** Somebody put the alarm aside for a time. */
  SHELVED,
  /** The plan suppresses the alarm in this phase. */
  SUPPRESSED,
  /** Somebody took the alarm out of service. */
  REMOVED,
  /** The alarm is no longer suppressed. */
  RESTORED;

  /** The event's name in the record. */
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
