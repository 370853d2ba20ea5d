package stillwatch.alerts.desk;

/**
 * Where an alarm stands (ANSI/ISA-18.2-2016 and IEC 62682:2022, the alarm state model; names from
 * memory).
 */
public enum AlarmState {
  /** Its condition is over and nobody need see to it. */
  NORMAL,
  /** Its condition lasts and nobody has acknowledged it. */
  UNACKNOWLEDGED,
  /** Its condition lasts and somebody has acknowledged it, or it is information and asks nobody. */
  ACKNOWLEDGED,
  /** Its condition is over and nobody has acknowledged it. */
  RETURNED_UNACKNOWLEDGED,
  /** It latches, its condition is over, and nobody has acknowledged it. */
  LATCHED_UNACKNOWLEDGED,
  /** It latches, its condition is over, it is acknowledged, and waits to be reset. */
  LATCHED_ACKNOWLEDGED,
  /** Somebody has put it aside for a time. */
  SHELVED,
  /** The plan says that it has nothing to say in this phase. */
  SUPPRESSED_BY_DESIGN,
  /** Somebody who may has taken it out of service until further notice. */
  OUT_OF_SERVICE;

  /** Whether it is still somebody's concern, or is held back. */
  public boolean open() {
    return this != NORMAL;
  }

  /** Whether it is held back: it neither asks nor goes out. */
  public boolean held() {
    return this == SHELVED || this == SUPPRESSED_BY_DESIGN || this == OUT_OF_SERVICE;
  }

  /** Whether it asks for somebody. */
  public boolean asks() {
    return this == UNACKNOWLEDGED
        || this == RETURNED_UNACKNOWLEDGED
        || this == LATCHED_UNACKNOWLEDGED;
  }
}
