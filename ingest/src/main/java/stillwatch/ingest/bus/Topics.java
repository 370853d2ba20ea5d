package stillwatch.ingest.bus;

/** The topics, all keyed by well id. */
public final class Topics {
  /** The log: frames, pulses, operations, observations, decisions. */
  public static final String TELEMETRY = "stillwatch.telemetry";

  /** What could not be accepted, with its raw bytes and one sentence saying why. */
  public static final String REJECTS = "stillwatch.rejects";

  /** Findings raised and returned to normal. */
  public static final String ALERTS = "stillwatch.alerts";

  /** How far the rules have read each well's log, for whoever watches the watch. */
  public static final String PROGRESS = "stillwatch.progress";

  /** What the newest reading of each well's build-up says, as JSON in the plan's units. */
  public static final String REVIEWS = "stillwatch.reviews";

  private Topics() {}
}
