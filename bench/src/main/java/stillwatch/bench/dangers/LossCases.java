package stillwatch.bench.dangers;

import java.util.List;

/** Losses, sudden and slow: seen in time, and kept for as long as they are not explained. */
final class LossCases {
  private static final String OPEN = "The principle: falling may end, lost does not";
  private static final String SUDDEN =
      "A gauge: at 60 s or 300 s a fall between two readings is still a fall";
  private static final String SLOW = "The principle: a change stays open until it is explained";

  private LossCases() {}

  static List<Case> all() {
    return List.of(
        new Case("burst", SUDDEN, s -> burst(s)),
        new Case(
            "burst-no-phase-logged",
            "An operation: the phase follows from what is logged",
            LossCases::noPhase),
        new Case("burst-in-noise", SUDDEN, LossCases::noisy),
        new Case("burst-in-swell", SUDDEN, LossCases::swell),
        new Case("burst-coarse", SUDDEN, LossCases::coarse),
        new Case("burst-on-archive-lines", SUDDEN, LossCases::archived),
        new Case("settles-lower-12-h", OPEN, LossCases::settles),
        new Case(
            "comes-back",
            "The principle: closed when the pressure is back on its course",
            LossCases::comesBack),
        new Case(
            "loss-outgrows",
            "Issue 6: raised again when the fall outgrows it",
            LossCases::outgrows),
        new Case(
            "explained-by-a-person",
            "The principle: closed when a person explains it, by name, in a sentence",
            LossCases::explained),
        new Case(
            "explained-then-lost-again",
            "The principle: a further loss is a change of its own",
            LossCases::explainedThenMore),
        new Case("quake-then-lower", OPEN, LossCases::quakeLower),
        new Case("slow-leak-build-up", SLOW, s -> slow(s, true, 0)),
        new Case("slow-leak-flat", SLOW, s -> slow(s, false, 0)),
        new Case("slow-leak-tide", SLOW, s -> slow(s, false, 10)),
        new Case("slow-leak-flattens-low", OPEN, LossCases::slowFlattens));
  }

  private static double loss(Scene s) {
    return 1000 * s.pick(0.3, 1, 3);
  }

  private static List<Claim> burst(Scene s) {
    s.soundWell();
    double visible = s.lose(loss(s), s.vary(1, 30, 60, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> noPhase(Scene s) {
    List<Step> steps = Step.six(1200, 600);
    s.well = Course.buildUp(48_300, 700, steps);
    s.logSteps(steps);
    s.tide(10, 0.3);
    double visible = s.lose(loss(s), s.vary(1, 30, 60, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> noisy(Scene s) {
    s.twins(g -> g.noise(3));
    return burst(s);
  }

  private static List<Claim> swell(Scene s) {
    s.well = s.well.plus(Course.swell(20, s.random));
    return burst(s);
  }

  private static List<Claim> coarse(Scene s) {
    s.twins(g -> g.resolution(20));
    s.plan.gauge("PT-1", "resolution", "20 kPa").gauge("PT-2", "resolution", "20 kPa");
    return burst(s);
  }

  private static List<Claim> archived(Scene s) {
    s.soundWell();
    double visible = s.lose(loss(s), s.vary(1, 30, 60, 120, 600));
    double every = 60;
    s.twins(g -> g.feels(f -> QuietCases.lines(f, every)));
    return Claim.seenAndKept(s, visible + every, s.patienceS());
  }

  private static List<Claim> settles(Scene s) {
    s.plateau(49_500);
    s.tide(10, 0.3);
    s.plan.withoutFacts();
    s.endS = s.onsetS + 12 * Course.HOUR;
    double visible = s.lose(loss(s), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> comesBack(Scene s) {
    s.soundWell();
    s.endS = s.onsetS + 2.5 * Course.HOUR;
    s.well = s.well.plus(Course.hump(s.onsetS, 60, 120, 120, -s.pick(100, 300, 1000)));
    return List.of(Claim.nothingStands());
  }

  private static List<Claim> explained(Scene s) {
    s.soundWell();
    s.endS = s.onsetS + 3 * Course.HOUR;
    double visible = s.lose(loss(s), s.vary(30, 120));
    s.explainedS = s.onsetS + 3600;
    return List.of(
        Claim.highWithin(s.onsetS, visible - s.onsetS + s.patienceS()),
        Claim.noHigh(s.explainedS),
        Claim.noHighStands());
  }

  private static List<Claim> explainedThenMore(Scene s) {
    s.soundWell();
    s.endS = s.onsetS + 2 * Course.HOUR;
    s.well = s.well.plus(Course.ramp(s.onsetS - 5400, 120, -300));
    s.soundUntilS = s.onsetS - 5400;
    s.explainedS = s.onsetS - 3600;
    double visible = s.lose(loss(s), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> outgrows(Scene s) {
    s.soundWell();
    s.well = s.well.plus(Course.ramp(s.onsetS - 5400, 120, -s.pick(100, 150, 300)));
    s.soundUntilS = s.onsetS - 5400;
    double visible = s.lose(1000, s.vary(60, 300));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> quakeLower(Scene s) {
    s.soundWell();
    s.quake(500, s.onsetS);
    double visible = s.lose(loss(s), 60);
    return Claim.seenAndKept(s, visible, 180 + s.patienceS());
  }

  private static List<Claim> slow(Scene s, boolean buildUp, double tide) {
    if (buildUp) {
      s.buildUp();
    } else {
      s.plateau(47_000);
      s.plan.withoutFacts();
    }
    s.tide(tide, 1);
    double perHour = s.pick(20, 60, 200);
    s.endS = s.onsetS + 6 * Course.HOUR;
    s.well = s.well.plus(Course.slope(s.onsetS, -perHour));
    return List.of(
        Claim.aboveLowWithin(s.onsetS, 60 / perHour * Course.HOUR + Math.max(900, s.patienceS())),
        Claim.aboveLowStands(s.onsetS));
  }

  private static List<Claim> slowFlattens(Scene s) {
    s.plateau(47_500);
    s.plan.withoutFacts();
    s.tide(10, 0.3);
    s.endS = s.onsetS + 9 * Course.HOUR;
    double kPa = s.pick(200, 500, 1000);
    s.well = s.well.plus(Course.ramp(s.onsetS, 2 * Course.HOUR, -kPa));
    return List.of(
        Claim.aboveLowWithin(s.onsetS, 120 * Course.HOUR / kPa + Math.max(900, s.patienceS())),
        Claim.aboveLowStands(s.onsetS));
  }
}
