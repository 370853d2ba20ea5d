package stillwatch.rules.replay;

import java.io.IOException;
import java.util.List;
import java.util.function.Consumer;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.closing.Cycles;
import stillwatch.rules.closing.StepsSeen;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.watch.WellWatch;

/** Runs a finite log through the same watch that live readings go through. */
public final class Replay {
  private Replay() {}

  /**
   * What was run.
   *
   * @param entries log entries read
   * @param readings values in frames
   * @param findings findings raised
   * @param fromMs reception time of the first entry; 0 when there was none
   * @param toMs reception time of the last
   * @param closings what each gauge saw through the closing of each cycle, oldest first
   */
  public record Result(
      long entries,
      long readings,
      long findings,
      long fromMs,
      long toMs,
      List<List<StepsSeen>> closings) {}

  /** A sink that keeps what is raised and leaves out what returns. */
  public static Consumer<Finding> raisedInto(List<Finding> kept) {
    return finding -> {
      if (!finding.returned()) {
        kept.add(finding);
      }
    };
  }

  /**
   * Runs the source to its end.
   *
   * @param sink told each finding when raised and again when returned
   */
  public static Result run(Plan plan, RuleBook book, TelemetrySource source, Consumer<Finding> sink)
      throws IOException {
    return run(plan, book, source, sink, WellWatch.NOBODY);
  }

  /** The same, with somebody who sees the indicators. */
  public static Result run(
      Plan plan, RuleBook book, TelemetrySource source, Consumer<Finding> sink, WellWatch.Tap tap)
      throws IOException {
    long entries = 0;
    long readings = 0;
    long fromMs = 0;
    long[] raised = {0};
    try (WellWatch watch =
        new WellWatch(
            plan,
            book,
            finding -> {
              raised[0] += finding.returned() ? 0 : 1;
              sink.accept(finding);
            },
            tap)) {
      long toMs = 0;
      for (Telemetry entry = source.next(); entry != null; entry = source.next()) {
        fromMs = entries++ == 0 ? entry.receivedMs() : fromMs;
        if (entry instanceof Frame frame) {
          for (double value : frame.values()) {
            readings += Double.isNaN(value) ? 0 : 1;
          }
        }
        watch.accept(entry);
        toMs = entry.receivedMs();
      }
      return new Result(entries, readings, raised[0], fromMs, toMs, closings(watch.cycles()));
    }
  }

  private static List<List<StepsSeen>> closings(Cycles cycles) {
    return cycles.all().stream().map(c -> cycles.steps(c.number())).toList();
  }
}
