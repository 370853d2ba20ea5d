package stillwatch.alerts.desk;

import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Suppresses the alarms of one point for a time or until further notice.
 *
 * @param point a rule and the gauges it speaks of
 * @param how shelved or out of service
 * @param untilMs until when, this machine's clock; null until somebody ends it
 * @param by who
 * @param reason why
 * @param sinceMs since when
 */
public record Hold(
    String point, How how, @Nullable Long untilMs, String by, String reason, long sinceMs) {
  /** Whether its time is over. */
  boolean isOver(long nowMs) {
    return untilMs != null && untilMs <= nowMs;
  }

  /** Ways of suppression. */
  public enum How {
    /** Suppressed for a time. */
    SHELVED(AlarmEvent.SHELVED),
    /** Suppressed until further notice. */
    OUT_OF_SERVICE(AlarmEvent.REMOVED);

    private final AlarmEvent event;

    How(AlarmEvent event) {
      this.event = event;
    }

    /** What suppressing in this way is in an alarm's history. */
    AlarmEvent event() {
      return event;
    }

    /** The name of this way in the record and for people. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    static Optional<How> of(String wire) {
      for (How h : values()) {
        if (h.wire().equals(wire)) {
          return Optional.of(h);
        }
      }
      return Optional.empty();
    }
  }
}
