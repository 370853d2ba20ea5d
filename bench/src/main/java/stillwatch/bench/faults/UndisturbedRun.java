package stillwatch.bench.faults;

import java.util.ArrayList;
import java.util.List;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.ingest.wire.TelemetryFormatException;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.watch.WellWatch;

/** What the rules say of a log from its first entry to its last, with nothing in between. */
final class UndisturbedRun {
  private UndisturbedRun() {}

  /** How an alert is told from every other. */
  static String name(Finding f) {
    return f.id() + (f.returned() ? " returned" : " raised");
  }

  /** The names of all findings of an alerts topic. */
  static List<String> names(List<Message> topic) {
    return topic.stream().map(m -> name(FindingCodec.decode(m.value()))).toList();
  }

  /**
   * The names of what the rules find in a telemetry topic.
   *
   * @param untilMs entries received later are left out
   */
  static List<String> replay(Plan plan, RuleBook book, List<Message> topic, long untilMs) {
    TelemetryCodec codec = new TelemetryCodec();
    List<String> said = new ArrayList<>();
    try (WellWatch watch = new WellWatch(plan, book, f -> said.add(name(f)))) {
      for (Message m : topic) {
        try {
          Telemetry entry = codec.decode(m);
          if (entry.receivedMs() <= untilMs) {
            watch.accept(entry);
          }
        } catch (TelemetryFormatException e) {
          // the rules leave it out too
        }
      }
    }
    return said;
  }
}
