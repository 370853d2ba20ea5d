package stillwatch.rules.book;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.function.IntToDoubleFunction;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.watch.WellWatch;

/** Drives the whole rule book on the demo plan second by second, and notes what the rules say. */
final class WellDriver implements AutoCloseable {
  static final long START_MS = 1_772_967_600_000L;

  private static final Path PLAN = Path.of("../demo-data/larkspur/plan.yaml");
  private static final GaugeSet TWINS = GaugeSet.of("PT-1", "PT-2");
  private static final String WELL = "larkspur-2";

  private final List<Finding> findings = new ArrayList<>();
  private final Map<String, IntToDoubleFunction> others = new LinkedHashMap<>();
  private final Random random = new Random(3);
  private final WellWatch watch;
  private long nowMs = START_MS;

  WellDriver() {
    this(PLAN);
  }

  WellDriver(Path planFile) {
    RuleBook book = RuleBook.forPlan(planFile);
    Plan plan = PlanLoader.load(planFile, book.catalogue());
    watch = new WellWatch(plan, book, findings::add);
  }

  /** Both twins go as told (kPa, by second), each with its own noise, PT-2 6 kPa lower. */
  WellDriver run(int seconds, IntToDoubleFunction level) {
    return run(seconds, level, s -> level.applyAsDouble(s) - 6);
  }

  /** Another gauge speaks beside the twins from now on, with noise of a hundredth. */
  WellDriver beside(String gauge, IntToDoubleFunction level) {
    others.put(gauge, level);
    return this;
  }

  /** Each twin goes as told; NaN says nothing. */
  WellDriver run(int seconds, IntToDoubleFunction first, IntToDoubleFunction second) {
    List<String> ids = new ArrayList<>(List.of("PT-1", "PT-2"));
    ids.addAll(others.keySet());
    GaugeSet gauges = GaugeSet.of(ids.toArray(String[]::new));
    for (int s = 0; s < seconds; s++) {
      double[] values = new double[ids.size()];
      values[0] = noisy(first.applyAsDouble(s));
      values[1] = noisy(second.applyAsDouble(s));
      int i = 2;
      for (IntToDoubleFunction level : others.values()) {
        values[i++] = noisy(level.applyAsDouble((int) seconds()));
      }
      watch.accept(Frame.good(WELL, nowMs, nowMs, gauges, values));
      nowMs += 1000;
      watch.accept(new Pulse(WELL, nowMs, nowMs));
    }
    return this;
  }

  /** Readings stamped so many seconds before or after now. */
  WellDriver runStamped(int seconds, double level, int offsetS) {
    for (int s = 0; s < seconds; s++) {
      watch.accept(
          Frame.good(WELL, nowMs + offsetS * 1000L, nowMs, TWINS, noisy(level), noisy(level - 6)));
      nowMs += 1000;
      watch.accept(new Pulse(WELL, nowMs, nowMs));
    }
    return this;
  }

  WellDriver observed(String means, Observation.Result result) {
    return observed(means, result, "seen so");
  }

  /** The same in these words. */
  WellDriver observed(String means, Observation.Result result, String text) {
    watch.accept(new Observation(WELL, nowMs, nowMs, means, result, text, "crew"));
    return this;
  }

  /** What a pass by camera saw. */
  WellDriver surveyed(
      String pass, SurveyItem.What what, String name, Optional<SurveyItem.Shape> at) {
    return surveyed(pass, "camera", what, name, at);
  }

  WellDriver surveyed(
      String pass, String means, SurveyItem.What what, String name, Optional<SurveyItem.Shape> at) {
    watch.accept(new SurveyItem(WELL, nowMs, nowMs, means, pass, what, name, at, "", "crew"));
    return this;
  }

  WellDriver explained(String change) {
    watch.accept(
        new Explanation(
            WELL, nowMs, nowMs, change, Explanation.Cause.GAUGE, "PT-2 was zeroed", "Ada Berg"));
    return this;
  }

  WellDriver attended(Attendance.From from, String links) {
    watch.accept(new Attendance(WELL, nowMs, nowMs, from, "N. Berg", links));
    return this;
  }

  WellDriver decided(Decision.Choice choice) {
    watch.accept(new Decision(WELL, nowMs, nowMs, choice, "deciders", "so", 0));
    return this;
  }

  /** Exactly these digits, without noise, PT-1 as usual. */
  WellDriver runStill(int seconds, double first, double second) {
    for (int s = 0; s < seconds; s++) {
      watch.accept(Frame.good(WELL, nowMs, nowMs, TWINS, noisy(first), second));
      nowMs += 1000;
      watch.accept(new Pulse(WELL, nowMs, nowMs));
    }
    return this;
  }

  /** Readings that the source itself calls bad. */
  WellDriver runBad(int seconds, double level) {
    byte bad = Quality.BAD.code();
    for (int s = 0; s < seconds; s++) {
      watch.accept(
          new Frame(WELL, nowMs, nowMs, TWINS, new double[] {level, level}, new byte[] {bad, bad}));
      nowMs += 1000;
      watch.accept(new Pulse(WELL, nowMs, nowMs));
    }
    return this;
  }

  /** Time passes and nobody speaks. */
  WellDriver silence(int seconds) {
    for (int s = 0; s < seconds; s++) {
      nowMs += 1000;
      watch.accept(new Pulse(WELL, nowMs, nowMs));
    }
    return this;
  }

  WellDriver logged(Operation.What what) {
    return logged(what, "test");
  }

  WellDriver logged(Operation.What what, String text) {
    watch.accept(new Operation(WELL, nowMs, nowMs, what, text, ""));
    return this;
  }

  private double noisy(double value) {
    return Double.isNaN(value)
        ? value
        : Math.rint((value + 0.05 * random.nextGaussian()) * 100) / 100;
  }

  /** Seconds since the start. */
  long seconds() {
    return (nowMs - START_MS) / 1000;
  }

  /** What a rule said, in order: "raised PT-1,PT-2 @second" and "returned ...". */
  List<String> said(String rule) {
    return findings.stream()
        .filter(f -> f.rule().equals(rule))
        .map(f -> (f.returned() ? "returned " : "raised ") + String.join(",", f.gauges()))
        .toList();
  }

  /** When a rule first raised, seconds since the start. */
  long raisedAt(String rule) {
    return findings.stream()
        .filter(f -> f.rule().equals(rule) && !f.returned())
        .mapToLong(f -> (f.raisedMs() - START_MS) / 1000)
        .findFirst()
        .orElseThrow(() -> new AssertionError(rule + " did not raise"));
  }

  /** The first finding of a rule. */
  Finding first(String rule) {
    return findings.stream()
        .filter(f -> f.rule().equals(rule))
        .findFirst()
        .orElseThrow(() -> new AssertionError(rule + " did not raise"));
  }

  /** The last finding of a rule. */
  Finding last(String rule) {
    return findings.stream()
        .filter(f -> f.rule().equals(rule))
        .reduce((a, b) -> b)
        .orElseThrow(() -> new AssertionError(rule + " did not raise"));
  }

  /** Every finding. */
  List<Finding> findings() {
    return findings;
  }

  @Override
  public void close() {
    watch.close();
  }
}
