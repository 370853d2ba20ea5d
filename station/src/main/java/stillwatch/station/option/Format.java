package stillwatch.station.option;

/** How a command says what it found. */
public enum Format {
  /** For people. */
  TEXT,
  /** For programs: one JSON object a line. */
  NDJSON
}
