package stillwatch.bench.dangers;

import java.util.ArrayList;
import java.util.List;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Operation.What;

/** Dangers that lie in what is logged: an operation explains only what it can do. */
final class OperationCases {
  private static final String CLOSURE =
      "An operation: a fall after a closure is the most suspicious fall there is";
  private static final String BEYOND =
      "An operation: what exceeds size, sign or time is unexplained, at once";
  private static final String STAMPS =
      "An operation: stamped in the future, or far in the past, masks nothing";
  private static final String PRESENCE =
      "An operation: presence never makes a pressure fall doubtful";

  private OperationCases() {}

  static List<Case> all() {
    List<Case> all = new ArrayList<>(falls());
    all.addAll(stamps());
    all.addAll(steps());
    return all;
  }

  private static List<Case> falls() {
    return List.of(
        new Case("loss-after-closure", CLOSURE, OperationCases::afterClosure),
        new Case("jump-then-loss-after-closure", CLOSURE, OperationCases::jumpFirst),
        new Case("loss-between-steps", CLOSURE, OperationCases::betweenSteps),
        new Case("loss-after-valve-test", BEYOND, OperationCases::afterValve),
        new Case("valve-test-comes-back", BEYOND, OperationCases::valveTest),
        new Case("loss-with-vessel-and-sound", PRESENCE, OperationCases::vesselLoss),
        new Case("loss-with-vehicle-and-sound", PRESENCE, OperationCases::vehicleLoss));
  }

  private static double loss(Scene s) {
    return 1000 * s.pick(0.3, 1, 3);
  }

  private static List<Claim> afterClosure(Scene s) {
    s.soundWell();
    double from = Scene.SHUT_S + Math.max(40, 2.5 * s.periodS);
    s.soundUntilS = Scene.SHUT_S;
    double visible = s.lose(Course.ramp(from, 60, -loss(s) - 60));
    return List.of(
        Claim.highWithin(from, Math.max(visible - from, 0) + s.patienceS()),
        Claim.highStands(from));
  }

  private static List<Claim> jumpFirst(Scene s) {
    s.soundWell();
    double from = Scene.SHUT_S + Math.max(30, 2 * s.periodS);
    s.soundUntilS = Scene.SHUT_S;
    s.well = s.well.plus(Course.hump(from, 5, 30, 30, 300));
    double visible = s.lose(Course.ramp(from + 35, 120, -loss(s) - 100));
    return List.of(
        Claim.highWithin(from, Math.max(visible - from, 0) + s.patienceS()),
        Claim.highStands(from));
  }

  private static List<Claim> betweenSteps(Scene s) {
    s.soundWell();
    double from = 1200 + 2 * 600 + 290; // nearly half-way between the third step and the fourth
    s.soundUntilS = from;
    Course loss = Course.ramp(from, 60, -loss(s) - 60);
    s.well = s.well.plus(loss);
    return List.of(Claim.highWithin(from, 60 + s.patienceS()), Claim.aboveLowStands(from));
  }

  private static List<Claim> afterValve(Scene s) {
    s.soundWell();
    s.log.did(s.onsetS - 30, What.VALVE, "function test of the kill valve");
    double visible = s.lose(loss(s), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> valveTest(Scene s) {
    s.soundWell();
    s.log.did(s.onsetS - 5, What.VALVE, "function test of the kill valve");
    s.well = s.well.plus(Course.hump(s.onsetS, 10, 15, 15, -s.pick(10, 20, 40)));
    s.soundUntilS = s.endS;
    return List.of(Claim.noHigh(0), Claim.nothingStands());
  }

  private static List<Claim> vesselLoss(Scene s) {
    s.soundWell();
    s.log.did(s.onsetS - 1200, What.VESSEL, "supply boat on station, 80 m");
    s.sound(s.onsetS - 1200, s.endS, 10);
    double visible = s.lose(loss(s), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> vehicleLoss(Scene s) {
    s.soundWell();
    s.log.did(s.onsetS - 600, What.ROV, "vehicle in the water at the wellhead");
    s.sound(s.onsetS, s.endS, 12);
    double visible = s.lose(loss(s), s.vary(30, 120, 600));
    List<Claim> claims = new ArrayList<>(Claim.seenAndKept(s, visible));
    claims.add(Claim.evidenceWithin(s.onsetS, visible - s.onsetS + Math.max(900, 5 * s.periodS)));
    return claims;
  }

  private static List<Case> stamps() {
    return List.of(
        new Case("operation-from-the-future", STAMPS, s -> stamped(s, 1)),
        new Case("operation-from-the-past", STAMPS, s -> stamped(s, -1)),
        new Case("operation-logged-2-h-ago", STAMPS, OperationCases::twoHoursAgo));
  }

  private static List<Claim> stamped(Scene s, int sign) {
    s.soundWell();
    double off = sign * s.pick(2, 24, 24 * 30) * Course.HOUR;
    double received = s.onsetS - 30;
    if (s.seed % 2 == 0) {
      s.log.did(received + off, received, What.VALVE, "line-up for sampling");
    } else {
      s.log.did(received + off, received, What.OPENING_STEP, "choke part-turn 6 of 6, opened");
    }
    double visible = s.lose(1000, s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> twoHoursAgo(Scene s) {
    s.soundWell();
    s.log.did(s.onsetS - 7200, What.VALVE, "line-up for sampling");
    double visible = s.lose(loss(s), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Case> steps() {
    String deaf = "Low is low: no response to the step is an alarm";
    return List.of(
        new Case(
            "reopening-falls",
            "An operation: after a decision to reopen falling pressure is expected",
            OperationCases::reopening),
        new Case(
            "loss-before-opening-step",
            "An operation: a decision to reopen alone explains no fall",
            s -> duringOpening(s, false)),
        new Case(
            "loss-after-opening-step",
            "An operation: an opening lowers it by no more than the plan's step foresees",
            s -> duringOpening(s, true)),
        new Case(
            "reopening-felt-by-nobody",
            "An operation: 'pressure does not fall though opened'",
            OperationCases::reopeningDeaf),
        new Case(
            "part-turn-reopened",
            "An operation: an opening lowers it by no more than the plan's step foresees",
            OperationCases::reopenedStep),
        new Case(
            "hold-point-without-phase",
            "An operation: hold points and passes count from the shut-in",
            OperationCases::holdPoint),
        new Case("step-felt-by-nobody", deaf, s -> deaf(s, true)),
        new Case("step-felt-by-one", deaf, s -> deaf(s, false)),
        new Case(
            "choke-held-open",
            "Low is low: during closing with a choke open low is what it should be",
            OperationCases::heldOpen));
  }

  private static List<Claim> reopening(Scene s) {
    s.soundWell();
    s.log.decided(s.onsetS, Decision.Choice.REOPEN, "the authority wants it open");
    s.soundUntilS = s.endS;
    double at = s.onsetS + 600;
    for (int i = 1; i <= 3; i++) {
      s.log.did(at, What.OPENING_STEP, "choke part-turn " + (7 - i) + " of 6, opened");
      s.well = s.well.plus(Course.settling(at, 300, -s.pick(300, 800, 1500)));
      at += 900;
    }
    return List.of(Claim.noHigh(0));
  }

  /** A loss in the minute before the first opening step, or half an hour after it has settled. */
  private static List<Claim> duringOpening(Scene s, boolean opened) {
    s.soundWell();
    s.log.decided(s.onsetS - 2400, Decision.Choice.REOPEN, "the authority wants it open");
    if (opened) {
      s.log.did(s.onsetS - 1800, What.OPENING_STEP, "choke part-turn 6 of 6, opened");
      s.well = s.well.plus(Course.settling(s.onsetS - 1800, 60, -800));
    }
    double visible = s.lose(Course.ramp(s.onsetS, 60, -loss(s)));
    return List.of(
        Claim.highWithin(s.onsetS, visible - s.onsetS + s.patienceS()), Claim.highStands(s.onsetS));
  }

  private static List<Claim> reopeningDeaf(Scene s) {
    s.plateau(47_000);
    s.plan.withoutFacts();
    s.log.decided(s.onsetS, Decision.Choice.REOPEN, "the authority wants it open");
    s.soundUntilS = s.onsetS;
    s.log.did(s.onsetS + 600, What.OPENING_STEP, "choke part-turn 6 of 6, opened");
    s.log.did(s.onsetS + 1500, What.OPENING_STEP, "choke part-turn 5 of 6, opened");
    return List.of(Claim.alarmWithin(s.onsetS + 600, Math.max(2400, 5 * s.periodS)));
  }

  /** In the closing the fourth part-turn is opened again for ten minutes, and logged. */
  private static List<Claim> reopenedStep(Scene s) {
    List<Step> steps = new ArrayList<>(Step.six(1200, 900));
    Step third = steps.get(2);
    Step fourth = steps.get(3);
    steps.add(4, new Step(fourth.atS() + 300, third.rate(), "opened"));
    steps.add(5, new Step(fourth.atS() + 600, fourth.rate(), fourth.text()));
    s.well = Course.buildUp(48_300, 700, steps);
    s.phase(1140, "closing");
    for (Step step : steps) {
      boolean opens = step.text().equals("opened");
      s.log.did(
          step.atS(),
          opens ? What.OPENING_STEP : What.CLOSURE_STEP,
          opens ? fourth.text() + ", opened again" : step.text());
    }
    s.phase(1200 + 5 * 900 + 120, "watching");
    s.tide(10, 0.3);
    s.soundUntilS = s.endS;
    return List.of(Claim.noHigh(0), Claim.nothingStands());
  }

  private static List<Claim> holdPoint(Scene s) {
    List<Step> steps = Step.six(1200, 600);
    s.well = Course.buildUp(48_300, 700, steps);
    s.logSteps(steps);
    s.endS = 8 * Course.HOUR;
    s.soundUntilS = s.endS;
    return List.of(Claim.ruleWithin("hold-point", Scene.SHUT_S + 4 * Course.HOUR, 9000));
  }

  /** The fourth to sixth step are logged; both gauges or one have been plugged since the third. */
  private static List<Claim> deaf(Scene s, boolean both) {
    s.soundWell();
    double plugged = 1200 + 2 * 600 + 300;
    s.twin(2).plug(plugged);
    if (both) {
      s.twin(1).plug(plugged);
    }
    s.soundUntilS = plugged;
    s.endS = 2.5 * Course.HOUR;
    double step = 1200 + 3 * 600;
    return List.of(Claim.alarmNamingWithin("PT-2", step, Math.max(1200, 4 * s.periodS)));
  }

  private static List<Claim> heldOpen(Scene s) {
    List<Step> steps = new ArrayList<>(Step.six(1200, 600).subList(0, 2 + s.size));
    s.well = Course.buildUp(48_300, 700, steps);
    s.phase(1140, "closing");
    s.logSteps(steps);
    s.tide(10, 0.3);
    s.endS = 8 * Course.HOUR;
    s.soundUntilS = s.endS;
    return List.of(Claim.quiet());
  }
}
