package stillwatch.alerts.desk;

/**
 * Where an alarm stands (ANSI/ISA-18.2-2016 and IEC 62682:2022, the alarm state model; names from
 * memory).
 */
public enum AlarmState {
  /** Its condition lasts and nobody has acknowledged it. */
  UNACKNOWLEDGED,
  /** Its condition lasts and somebody has acknowledged it, or it is information and asks nobody. */
  ACKNOWLEDGED,
  /** Its condition is over and nobody has acknowledged it. */
  RETURNED_UNACKNOWLEDGED,
  /** Its condition is over and somebody has acknowledged it. */
  NORMAL;

  /** Where it stands after its condition is over. */
  AlarmState whenReturned() {
    return switch (this) {
      case UNACKNOWLEDGED, RETURNED_UNACKNOWLEDGED -> RETURNED_UNACKNOWLEDGED;
      case ACKNOWLEDGED, NORMAL -> NORMAL;
    };
  }

  /** Where it stands after somebody acknowledged it. */
  AlarmState whenAcknowledged() {
    return switch (this) {
      case UNACKNOWLEDGED, ACKNOWLEDGED -> ACKNOWLEDGED;
      case RETURNED_UNACKNOWLEDGED, NORMAL -> NORMAL;
    };
  }

  /** Whether it is still somebody's concern. */
  public boolean open() {
    return this != NORMAL;
  }
}
