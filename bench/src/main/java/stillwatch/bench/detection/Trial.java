package stillwatch.bench.detection;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import stillwatch.bench.Seeds;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.drill.DrillSource;
import stillwatch.rules.drill.Scenario;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.replay.Replay;
import stillwatch.rules.watch.WellWatch;

/**
 * One simulated well of the matrix, watched.
 *
 * @param leak what leaks
 * @param path where to
 * @param onsetHour when
 * @param condition what is the matter with a gauge
 * @param seed which well, which noise
 */
record Trial(LeakCase leak, String path, double onsetHour, Condition condition, long seed) {
  private static final double SHUT_HOUR = 0.6;
  private static final double WATCHED_AFTER_HOURS = 2;
  private static final double SOUND_HOURS = 24;
  private static final GaugeSet LATE = GaugeSet.of("PT-2");

  /**
   * What came of it.
   *
   * @param delayS from the leak's beginning to the first alert about the well that needs
   *     acknowledgement; NaN when there was none
   * @param byRule delay of each rule's first alert
   * @param falseAlerts alerts about the well while it was sound, by rule
   * @param soundHours how long it was sound
   */
  record Outcome(
      Trial trial,
      double delayS,
      Map<String, Double> byRule,
      Map<String, Integer> falseAlerts,
      double soundHours) {}

  Outcome run(Plan plan, RuleBook book) throws IOException {
    Scenario scenario = scenario();
    long startMs = java.time.Instant.parse(scenario.start()).toEpochMilli();
    double onset = leak.share() == 0 ? scenario.hours() : onsetHour;
    long onsetMs = startMs + Math.round(onset * 3_600_000);
    List<Finding> raised = new ArrayList<>();
    try (WellWatch watch = new WellWatch(plan, book, Replay.raisedInto(raised));
        DrillSource source = new DrillSource(scenario, plan.well())) {
      for (Telemetry entry = source.next(); entry != null; entry = source.next()) {
        take(watch, entry);
      }
    }
    Map<String, Double> byRule = new TreeMap<>();
    Map<String, Integer> falseAlerts = new TreeMap<>();
    double delayS = Double.NaN;
    for (Finding f : raised) {
      RuleEntry rule = book.catalogue().rule(f.rule()).orElseThrow();
      if (rule.about() == RuleEntry.About.WELL
          && f.priority().compareTo(Priority.INFORMATION) > 0) {
        if (f.raisedMs() < onsetMs) {
          falseAlerts.merge(f.rule(), 1, Integer::sum);
        } else {
          double late = (f.raisedMs() - onsetMs) / 1000.0;
          byRule.merge(f.rule(), late, Math::min);
          delayS = Double.isNaN(delayS) ? late : Math.min(delayS, late);
        }
      }
    }
    return new Outcome(this, delayS, byRule, falseAlerts, onset);
  }

  /** A gauge with a clock of its own speaks in frames of its own. */
  private void take(WellWatch watch, Telemetry entry) {
    if (condition != Condition.CLOCK || !(entry instanceof Frame frame)) {
      watch.accept(entry);
      return;
    }
    double[] values = frame.values().clone();
    double second = values[1];
    values[1] = Double.NaN;
    watch.accept(
        Frame.good(frame.well(), frame.atMs(), frame.receivedMs(), frame.gauges(), values));
    watch.accept(Frame.good(frame.well(), frame.atMs() - 20_000, frame.receivedMs(), LATE, second));
  }

  private Scenario scenario() {
    SplittableRandom random = new SplittableRandom(Seeds.mix(seed));
    double hours = leak.share() == 0 ? SOUND_HOURS : onsetHour + WATCHED_AFTER_HOURS;
    Scenario.Well well =
        new Scenario.Well(
            46_500 + 800 * random.nextDouble(),
            400 + 500 * random.nextDouble(),
            5e-6,
            1440,
            20_000,
            10 + 20 * random.nextDouble(),
            10 + 20 * random.nextDouble(),
            15 + 10 * random.nextDouble(),
            14_200,
            0.02 + 0.1 * random.nextDouble());
    double noise = 0.05 * Math.pow(10, random.nextDouble()); // 0.05 to 0.5 kPa
    double faultFrom = leak.share() == 0 ? 2 : onsetHour - 0.5 - 0.4 * random.nextDouble();
    List<Scenario.Gauge> gauges = gauges(noise, faultFrom, hours);
    List<Scenario.Step> steps = new ArrayList<>();
    for (int i = 1; i <= 4; i++) {
      steps.add(
          new Scenario.Step(i * SHUT_HOUR / 4, 1 - i / 4.0, "part-turn " + i + " of 4", null));
    }
    List<Scenario.Event> events = new ArrayList<>();
    events.add(new Scenario.Event("operation", SHUT_HOUR + 0.01, null, null, "phase: watching"));
    if (condition == Condition.BURSTS) {
      for (double at = 1; at < hours; at += 0.5 + random.nextDouble()) {
        events.add(new Scenario.Event("burst", at, at + 1 / 12.0, null, null));
      }
    }
    @Nullable Double level = null;
    if (leak.share() > 0) {
      level =
          well.finalPressure()
              - well.slopePerCycle() * Math.log10(1440 / (onsetHour - SHUT_HOUR / 2))
              - well.sag() / 10;
    }
    return new Scenario(
        "2026-03-02T06:00:00Z",
        hours,
        Seeds.mix(seed, 1),
        well,
        steps,
        level == null ? null : leak.leak(well, path, onsetHour, level),
        gauges,
        events);
  }

  private List<Scenario.Gauge> gauges(double noise, double faultFrom, double hours) {
    List<Scenario.Gauge> gauges = new ArrayList<>();
    gauges.add(new Scenario.Gauge("PT-1", "well", 1, 4, noise, 0.01, 2, null));
    if (condition != Condition.ALONE) {
      gauges.add(
          new Scenario.Gauge(
              "PT-2", "well", 1, -6, noise, 0.01, 2, condition.faults(faultFrom, hours)));
    }
    gauges.add(new Scenario.Gauge("PA-1", "sea", 10, 1, 0.03, 0.01, 2, null));
    gauges.add(new Scenario.Gauge("HY-1", "sound", 5, 0.4, 0.5, 0.1, 1, null));
    gauges.add(new Scenario.Gauge("HY-2", "sound", 5, -0.3, 0.5, 0.1, 1, null));
    return gauges;
  }
}
