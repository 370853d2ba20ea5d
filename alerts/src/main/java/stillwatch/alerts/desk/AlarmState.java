package stillwatch.alerts.desk;

/**
 * Where an alarm stands (ANSI/ISA-18.2-2016 and IEC 62682:2022, the alarm state model; names from
 * memory).
 */
public enum AlarmState {
  /** The condition is over and nobody need attend to the alarm. */
  NORMAL,
  /** The condition lasts and nobody has acknowledged the alarm. */
  UNACKNOWLEDGED,
  /** The condition lasts; somebody has acknowledged the alarm, or it is information. */
  ACKNOWLEDGED,
  /** The condition is over and nobody has acknowledged the alarm. */
  RETURNED_UNACKNOWLEDGED,
  /** The alarm latches, the condition is over, and nobody has acknowledged it. */
  LATCHED_UNACKNOWLEDGED,
  /** The alarm latches, the condition is over, and it is acknowledged and not reset yet. */
  LATCHED_ACKNOWLEDGED,
  /** Somebody has put the alarm aside for a time. */
  SHELVED,
  /** The plan suppresses the alarm in this phase. */
  SUPPRESSED_BY_DESIGN,
  /** An administrator has taken the alarm out of service until further notice. */
  OUT_OF_SERVICE;

  /** Whether an alarm in this state is on the board: not normal, or suppressed. */
  public boolean open() {
    return this != NORMAL;
  }

  /** Whether an alarm in this state is suppressed: it asks nobody and goes out by no route. */
  public boolean held() {
    return this == SHELVED || this == SUPPRESSED_BY_DESIGN || this == OUT_OF_SERVICE;
  }

  /** Whether an alarm in this state waits for somebody to acknowledge it. */
  public boolean asks() {
    return this == UNACKNOWLEDGED
        || this == RETURNED_UNACKNOWLEDGED
        || this == LATCHED_UNACKNOWLEDGED;
  }
}
