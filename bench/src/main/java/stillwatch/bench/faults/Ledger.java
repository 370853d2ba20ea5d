package stillwatch.bench.faults;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.wire.TelemetryCodec;

/** What became of every reading that was sent. Safe from any thread. */
final class Ledger {
  private final Map<Key, int[]> readings = new LinkedHashMap<>();

  /**
   * A reading.
   *
   * @param atMs its time, ms since 1970 UTC
   * @param kPa the value of the first gauge
   */
  record Key(long atMs, double kPa) {}

  /** It left; nobody knows yet whether it arrives. */
  synchronized void sent(Key key) {
    readings.computeIfAbsent(key, k -> new int[2])[0]++;
  }

  /** The watch says that it has it. */
  synchronized void accepted(Key key) {
    readings.computeIfAbsent(key, k -> new int[2])[1]++;
  }

  /** How many readings the watch says that it has. */
  synchronized int accepted() {
    return (int) readings.values().stream().filter(counts -> counts[1] > 0).count();
  }

  /** Compares with a telemetry topic. */
  synchronized List<Evidence.Reading> against(List<Message> log) {
    TelemetryCodec codec = new TelemetryCodec();
    Map<Key, Integer> logged = new LinkedHashMap<>();
    for (Message m : log) {
      if (codec.decode(m) instanceof Frame f) {
        double kPa = f.values()[f.gauges().ids().indexOf(Course.GAUGES.get(0))];
        if (!Double.isNaN(kPa)) { // stamped ahead: it came, and says nothing
          logged.merge(new Key(f.atMs(), kPa), 1, Integer::sum);
        }
      }
    }
    List<Evidence.Reading> all = new ArrayList<>();
    readings.forEach(
        (key, counts) -> {
          Integer there = logged.remove(key);
          all.add(
              new Evidence.Reading(
                  key.toString(), counts[0], counts[1], there == null ? 0 : there));
        });
    logged.forEach((key, there) -> all.add(new Evidence.Reading(key.toString(), 0, 0, there)));
    return all;
  }
}
