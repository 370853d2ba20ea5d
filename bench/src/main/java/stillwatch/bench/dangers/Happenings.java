package stillwatch.bench.dangers;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Telemetry;

/** What people log. Times are seconds since the log's start. One thread at a time. */
final class Happenings {
  /** An entry and when it is received. */
  record Due(double receivedS, Telemetry entry) {}

  private final List<Due> all = new ArrayList<>();

  /** Somebody did something, logged at once. */
  void did(double atS, Operation.What what, String text) {
    did(atS, atS, what, text);
  }

  /** Somebody did something, stamped at one time and received at another. */
  void did(double stampS, double receivedS, Operation.What what, String text) {
    add(
        receivedS,
        new Operation(Scene.WELL, Scene.ms(stampS), Scene.ms(receivedS), what, text, ""));
  }

  /** Somebody worked on a gauge. */
  void worked(double atS, Operation.What what, String gauge, String text) {
    long at = Scene.ms(atS);
    add(atS, new Operation(Scene.WELL, at, at, what, gauge, text, "gauge technician"));
  }

  /** Somebody looked. */
  void saw(double atS, String means, Observation.Result result, String text) {
    long at = Scene.ms(atS);
    add(atS, new Observation(Scene.WELL, at, at, means, result, text, "vehicle crew"));
  }

  /** Somebody decided. */
  void decided(double atS, Decision.Choice choice, String why) {
    long at = Scene.ms(atS);
    add(atS, new Decision(Scene.WELL, at, at, choice, "deciders", why, 0));
  }

  private void add(double receivedS, Telemetry entry) {
    all.add(new Due(Math.floor(receivedS), entry));
  }

  /** All in the order of their reception. */
  List<Due> sorted() {
    return all.stream().sorted(Comparator.comparingDouble(Due::receivedS)).toList();
  }
}
