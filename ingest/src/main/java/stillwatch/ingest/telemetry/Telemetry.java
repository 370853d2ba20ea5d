package stillwatch.ingest.telemetry;

/**
 * One entry of a well's log. Two times: {@link #atMs()} is when it was true by the source's clock
 * and may repeat or run backwards; {@link #receivedMs()} is when the intake took it and never
 * decreases within a partition. Both in milliseconds since 1970-01-01T00:00:00Z. Physics runs on
 * the first, silence is measured on the second.
 */
public sealed interface Telemetry
    permits Frame,
        Pulse,
        Operation,
        Observation,
        Decision,
        Explanation,
        Attendance,
        WeatherForecast,
        SurveyItem {
  /** The well's id as in its plan, for example {@code larkspur-2}. */
  String well();

  /** When the thing told was so, by the source's clock, ms since 1970 UTC. */
  long atMs();

  /** When the intake took it, ms since 1970 UTC; never decreases within a partition. */
  long receivedMs();
}
