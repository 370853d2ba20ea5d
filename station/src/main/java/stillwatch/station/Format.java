package stillwatch.station;

/** How a command says what it found. */
enum Format {
  /** For people. */
  TEXT,
  /** For programs: one JSON object a line. */
  NDJSON
}
