package stillwatch.rules.leaving;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;

/**
 * Who watches the well from shore, what weather is forecast and what was decided about leaving, as
 * people log it. Not thread-safe.
 */
public final class Leaving {
  private final List<Absence> over = new ArrayList<>();
  private final List<WeatherForecast> forecasts = new ArrayList<>();
  private final List<Telemetry> entries = new ArrayList<>();
  private @Nullable Attendance left;
  private @Nullable Attendance newest;
  private Optional<Decision> decided = Optional.empty();

  /** Takes the next entry of the log; readings and pulses say nothing here. */
  public void accept(Telemetry entry) {
    if (entry instanceof Frame || entry instanceof Pulse) {
      return;
    }
    if (entry instanceof Attendance attendance) {
      attend(attendance);
    } else if (left != null) {
      entries.add(entry);
    }
    if (entry instanceof WeatherForecast forecast) {
      forecasts.add(forecast);
    } else if (entry instanceof Decision d && answers(d.choice())) {
      decided = Optional.of(d);
    }
  }

  private static boolean answers(Decision.Choice choice) {
    return choice == Decision.Choice.LEAVE
        || choice == Decision.Choice.STAY
        || choice == Decision.Choice.REOPEN;
  }

  private void attend(Attendance said) {
    if (said.from() == Attendance.From.SHORE) {
      if (left == null) {
        left = said;
      } else {
        entries.add(said);
      }
      newest = said;
    } else if (left != null && newest != null) {
      over.add(new Absence(left, newest, Optional.of(said), entries));
      entries.clear();
      left = null;
      newest = null;
    }
  }

  /** When an entry was so; one stamped ahead of its reception was when it was received. */
  public static long saidMs(Telemetry entry) {
    return Math.min(entry.atMs(), entry.receivedMs());
  }

  /** The absence that lasts; empty while people are with the watch. */
  public Optional<Absence> now() {
    return left == null || newest == null
        ? Optional.empty()
        : Optional.of(new Absence(left, newest, Optional.empty(), entries));
  }

  /**
   * Whoever watches from shore, as they last said; empty while people are with the watch. It copies
   * nothing: the rules ask at every moment.
   */
  public Optional<Attendance> ashore() {
    return Optional.ofNullable(newest);
  }

  /** All absences, oldest first, with the one that lasts. */
  public List<Absence> all() {
    List<Absence> all = new ArrayList<>(over);
    now().ifPresent(all::add);
    return all;
  }

  /** What was forecast, oldest first; the last counts. */
  public List<WeatherForecast> forecasts() {
    return List.copyOf(forecasts);
  }

  /** The forecast that counts; empty while there is none. */
  public Optional<WeatherForecast> forecast() {
    return forecasts.isEmpty()
        ? Optional.empty()
        : Optional.of(forecasts.get(forecasts.size() - 1));
  }

  /** The last decision to leave, to stay or to reopen; empty while there is none. */
  public Optional<Decision> decided() {
    return decided;
  }
}
