package stillwatch.bench.dangers;

import java.util.ArrayList;
import java.util.List;
import stillwatch.ingest.telemetry.Operation;

/** Dangers that lie in a low level: low is low, flat or not, from the last closing step on. */
final class LowCases {
  private static final String LOW =
      "Low is low: at or below leak-high for the hold time is HIGH whatever the slope";
  private static final String BETWEEN =
      "Low is low: between leak-high and intact-low it is HIGH when flat or falling";
  private static final String NOISE =
      "Low is low: flatness is judged after the tide and after noise";
  private static final String FROM = "Low is low: the clock counts from the last closure step";
  private static final double LEAK_HIGH = 41_500;

  private LowCases() {}

  static List<Case> all() {
    List<Case> all = new ArrayList<>();
    all.add(new Case("low-flat", LOW, s -> low(s, Course.flat(0))));
    all.add(new Case("low-rises", LOW, LowCases::lowRises));
    all.add(new Case("low-falls", LOW, s -> low(s, slope(-s.pick(5, 20, 60)))));
    all.add(new Case("low-tide", NOISE, s -> lowTide(s, true)));
    all.add(new Case("low-tide-no-ambient", NOISE, s -> lowTide(s, false)));
    all.add(new Case("low-noisy", NOISE, LowCases::lowNoisy));
    all.add(new Case("low-over-the-limit-a-minute", NOISE, LowCases::lowOver));
    all.add(
        new Case(
            "low-ambient-with-gaps",
            "Time: gaps in the ambient gauge freeze its correction",
            LowCases::lowGaps));
    all.add(
        new Case(
            "low-drop-out",
            "DOMAIN lesson 9: the timing must survive a drop-out",
            LowCases::lowDropOut));
    all.add(
        new Case(
            "low-announced",
            "Low is low: it announces itself before (1 h, 2 h)",
            LowCases::announced));
    all.add(new Case("between-flat", BETWEEN, s -> between(s, Course.flat(0))));
    all.add(new Case("between-falls", BETWEEN, s -> between(s, slope(-s.pick(5, 20, 60)))));
    all.add(new Case("between-tide", NOISE, LowCases::betweenTide));
    all.add(new Case("between-rises", BETWEEN, LowCases::betweenRises));
    all.add(new Case("low-phase-misspelt", FROM, s -> lowPhase(s, "wathcing")));
    all.add(new Case("low-no-phase", FROM, s -> lowPhase(s, "")));
    all.add(new Case("low-sixth-step-same-time", FROM, LowCases::sixthStep));
    all.add(
        new Case(
            "low-no-steps-logged",
            "Low is low: where none is logged, from the start of the watching phase",
            LowCases::noSteps));
    return all;
  }

  /** HIGH about the well 3 h to 3 h 30 min after the last closing step, and it stands. */
  static List<Claim> highAfterThreeHours() {
    return highAfterThreeHours(Scene.SHUT_S);
  }

  private static List<Claim> highAfterThreeHours(double shutS) {
    double due = shutS + 3 * Course.HOUR;
    return List.of(Claim.highWithin(due - 60, 1860), Claim.highStands(due - 60));
  }

  private static Course slope(double perHour) {
    return Course.slope(Scene.SHUT_S, perHour);
  }

  private static void maybeNoFacts(Scene s) {
    s.soundUntilS = 0;
    if (s.seed % 2 == 1) {
      s.plan.withoutFacts();
    }
  }

  private static double under(Scene s) {
    return LEAK_HIGH - s.pick(50, 300, 1500);
  }

  private static List<Claim> low(Scene s, Course course) {
    maybeNoFacts(s);
    s.plateau(under(s));
    s.well = s.well.plus(course);
    return highAfterThreeHours();
  }

  private static List<Claim> lowRises(Scene s) {
    maybeNoFacts(s);
    double perHour = s.pick(5, 20, 60);
    s.plateau(LEAK_HIGH - 4.5 * perHour);
    s.well = s.well.plus(slope(perHour));
    return highAfterThreeHours();
  }

  private static List<Claim> lowTide(Scene s, boolean ambient) {
    s.tide(s.pick(5, 10, 20), 1);
    if (!ambient) {
      s.withoutAmbient();
    }
    maybeNoFacts(s);
    s.plateau(LEAK_HIGH - 300);
    return highAfterThreeHours();
  }

  private static List<Claim> lowNoisy(Scene s) {
    s.twins(g -> g.noise(s.pick(1, 3, 10)));
    maybeNoFacts(s);
    s.plateau(LEAK_HIGH - 100);
    return highAfterThreeHours();
  }

  private static List<Claim> lowOver(Scene s) {
    maybeNoFacts(s);
    s.plateau(LEAK_HIGH - 30);
    s.well = s.well.plus(Course.hump(Scene.SHUT_S + 5400, 5, 50, 5, s.pick(50, 80, 300)));
    return highAfterThreeHours();
  }

  private static List<Claim> lowGaps(Scene s) {
    maybeNoFacts(s);
    s.tide(s.pick(5, 10, 20), 0.5);
    s.plateau(LEAK_HIGH - 300);
    s.gauge("PA-1").fault((t, v) -> t % 1500 < 600 ? Double.NaN : v);
    return highAfterThreeHours();
  }

  private static List<Claim> lowDropOut(Scene s) {
    maybeNoFacts(s);
    s.plateau(LEAK_HIGH - 300);
    double from = Scene.SHUT_S + 5400;
    double lasts = s.pick(120, 600, 1800);
    s.twin(1 + s.seed % 2).fault((t, v) -> t >= from && t < from + lasts ? 0 : v);
    return highAfterThreeHours();
  }

  private static List<Claim> announced(Scene s) {
    maybeNoFacts(s);
    s.plateau(under(s));
    double hour = Scene.SHUT_S + Course.HOUR;
    return List.of(
        Claim.wellNamedWithin(hour - 300, 900 + s.patienceS()),
        Claim.wellNamedWithin(hour + Course.HOUR - 300, 900 + s.patienceS()));
  }

  private static List<Claim> between(Scene s, Course course) {
    maybeNoFacts(s);
    s.plateau(s.pick(42_000, 44_000, 45_800));
    s.well = s.well.plus(course);
    return highAfterThreeHours();
  }

  private static List<Claim> betweenTide(Scene s) {
    s.tide(s.pick(5, 10, 20), 1);
    if (s.seed / 2 % 2 == 1) {
      s.withoutAmbient();
    }
    maybeNoFacts(s);
    s.plateau(44_000);
    return highAfterThreeHours();
  }

  private static List<Claim> betweenRises(Scene s) {
    s.plan.withoutFacts();
    s.plateau(43_000);
    s.well = s.well.plus(slope(s.pick(20, 50, 120)));
    s.tide(10, 0.2);
    s.endS = 8 * Course.HOUR;
    s.soundUntilS = 0;
    return List.of(Claim.noHigh(0));
  }

  private static List<Claim> lowPhase(Scene s, String name) {
    maybeNoFacts(s);
    List<Step> steps = Step.six(1200, 600);
    s.well = Course.plateau(under(s), steps);
    s.logSteps(steps);
    if (!name.isEmpty()) {
      s.phase(1140, "closng");
      s.phase(Scene.SHUT_S + 120, name);
    }
    return highAfterThreeHours();
  }

  private static List<Claim> noSteps(Scene s) {
    maybeNoFacts(s);
    s.well = Course.plateau(under(s), Step.six(1200, 600));
    s.phase(1140, "closing");
    s.phase(Scene.SHUT_S + 120, "watching");
    return highAfterThreeHours(Scene.SHUT_S + 120);
  }

  /** The sixth step is done ten minutes after the fifth and logged with the fifth's time. */
  private static List<Claim> sixthStep(Scene s) {
    maybeNoFacts(s);
    List<Step> steps = Step.six(1200, 600);
    s.well = Course.plateau(under(s), steps);
    s.phase(1140, "closing");
    s.logSteps(steps.subList(0, 5));
    s.log.did(
        Scene.SHUT_S - 600,
        s.seed % 2 == 0 ? Scene.SHUT_S : Scene.SHUT_S - 600,
        Operation.What.CLOSURE_STEP,
        steps.get(5).text());
    s.phase(Scene.SHUT_S + 120, "watching");
    double due = Scene.SHUT_S + 3 * Course.HOUR;
    return List.of(Claim.highWithin(due - 660, 2460), Claim.highStands(due - 660));
  }
}
