package stillwatch.rules.leaving;

import java.util.List;
import java.util.Optional;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Telemetry;

/**
 * A time in which the well was watched from shore.
 *
 * @param left how it began
 * @param newest what whoever watches from shore said last
 * @param back who took over on site; empty while nobody has
 * @param entries what people entered into the log meanwhile, in the log's order
 */
public record Absence(
    Attendance left, Attendance newest, Optional<Attendance> back, List<Telemetry> entries) {
  /** An absence. */
  public Absence {
    entries = List.copyOf(entries);
  }

  /** When it began, log time, ms since 1970 UTC. */
  public long fromMs() {
    return Leaving.saidMs(left);
  }

  /** When it ended; empty while it lasts. */
  public Optional<Long> toMs() {
    return back.map(Leaving::saidMs);
  }

  /** When whoever watches from shore last said so, log time, ms since 1970 UTC. */
  public long confirmedMs() {
    return Leaving.saidMs(newest);
  }
}
