package stillwatch.ingest.telemetry;

/**
 * How far the source itself trusts a value: the severity classes of OPC UA status codes (OPC
 * 10000-4, 7.39).
 */
public enum Quality {
  GOOD,
  UNCERTAIN,
  /** Recorded, never used. */
  BAD;

  private static final Quality[] ALL = values();

  /** The code stored in {@link Frame#qualities()}: 0 good, 1 uncertain, 2 bad. */
  @SuppressWarnings("EnumOrdinal") // stored codes: the order above never changes
  public byte code() {
    return (byte) ordinal();
  }

  /** The quality of a stored code; anything unknown is {@link #BAD}. */
  public static Quality of(byte code) {
    return code >= 0 && code < ALL.length ? ALL[code] : BAD;
  }
}
