package stillwatch.bench.dangers;

import java.util.ArrayList;
import java.util.List;

/** Dangers that lie in a gauge: plugged, far off, out of place, outvoted. */
final class GaugeCases {
  private static final String SILENCE = "A gauge: silence is not a witness";
  private static final String BOUND = "A gauge: agreement needs an absolute bound";
  private static final String PLACE = "A gauge: values physically out of place are told as such";
  private static final String NEVER = "A gauge: excluded from reassuring, never from alarming";

  private GaugeCases() {}

  static List<Case> all() {
    List<Case> all = new ArrayList<>(plugged());
    all.addAll(farApart());
    all.addAll(three());
    all.addAll(outOfPlace());
    all.addAll(excluded());
    return all;
  }

  private static List<Case> plugged() {
    return List.of(
        new Case("plugged-second-burst", SILENCE, s -> pluggedBurst(s, 2)),
        new Case("plugged-first-burst", SILENCE, s -> pluggedBurst(s, 1)),
        new Case("plugged-second-slow", SILENCE, GaugeCases::pluggedSlow),
        new Case("plugged-calm-slow", SILENCE, GaugeCases::pluggedInCalm),
        new Case("plugged-and-sound", SILENCE, GaugeCases::pluggedAndSound),
        new Case("frozen-twin-burst", SILENCE, GaugeCases::frozenBurst));
  }

  private static List<Claim> pluggedBurst(Scene s, int plugged) {
    s.soundWell();
    s.twin(plugged).plug(s.onsetS - 2400);
    s.soundUntilS = s.onsetS - 2400;
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> pluggedSlow(Scene s) {
    s.soundWell();
    s.twin(2).plug(Scene.SHUT_S + 600);
    s.soundUntilS = Scene.SHUT_S + 600;
    s.endS = 6.5 * Course.HOUR;
    double perHour = s.pick(60, 200, 600);
    double visible = s.lose(Course.slope(s.onsetS, -perHour - fasterThanBuildUp(s)));
    return List.of(
        Claim.aboveLowWithin(s.onsetS, visible - s.onsetS + Math.max(600, s.patienceS())),
        Claim.aboveLowStands(s.onsetS));
  }

  /** Plugged half an hour before the leak begins, in a well that only the tide moves. */
  private static List<Claim> pluggedInCalm(Scene s) {
    s.plateau(47_000);
    s.plan.withoutFacts();
    s.tide(8, 0.8);
    s.twin(1 + s.seed % 2).plug(s.onsetS - 1800);
    s.soundUntilS = s.onsetS - 1800;
    s.endS = 12 * Course.HOUR;
    s.lose(Course.slope(s.onsetS, -s.pick(20, 40, 100)));
    return List.of(
        Claim.aboveLowWithin(s.onsetS, s.pick(7, 4, 3) * Course.HOUR),
        Claim.aboveLowStands(s.onsetS));
  }

  /** A build-up at its rate two hours after the shut-in. */
  private static double fasterThanBuildUp(Scene s) {
    return s.seed % 2 == 0 ? 150 : 0;
  }

  private static List<Claim> pluggedAndSound(Scene s) {
    s.soundWell();
    s.twin(2).plug(s.onsetS - 1200);
    s.soundUntilS = s.onsetS - 1200;
    s.sound(s.onsetS, s.endS, 10);
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), 120);
    List<Claim> claims = new ArrayList<>(Claim.seenAndKept(s, visible));
    claims.add(Claim.evidenceWithin(s.onsetS, Math.max(900, 5 * s.periodS)));
    return claims;
  }

  private static List<Claim> frozenBurst(Scene s) {
    s.soundWell();
    double from = s.onsetS - 900;
    double[] last = {Double.NaN};
    s.twin(2)
        .fault(
            (t, value) -> {
              last[0] = t < from ? value : last[0];
              return last[0];
            });
    s.soundUntilS = from;
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Case> farApart() {
    return List.of(
        new Case("far-twin-burst", BOUND, GaugeCases::farBurst),
        new Case("far-twin-low-in-leak-band", BOUND, GaugeCases::farLow),
        new Case("far-twin-low-one-falls", BOUND, GaugeCases::farFalls),
        new Case("far-twin-never-usual", BOUND, GaugeCases::farSaid),
        new Case("far-twin-high-over-ceiling", BOUND, GaugeCases::farHigh));
  }

  private static void far(Scene s) {
    double off = -1000 * s.pick(0.3, 1, 4);
    s.twin(2).feels(f -> f.plus(Course.flat(off)));
  }

  private static List<Claim> farBurst(Scene s) {
    s.soundWell();
    far(s);
    s.soundUntilS = 0;
    double visible = s.lose(1000 * s.vary(0.3, 1, 3), 120);
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> farLow(Scene s) {
    s.plateau(41_200 + 1000 * s.pick(0.3, 1, 4));
    s.tide(10, 0.2);
    far(s);
    s.soundUntilS = 0;
    return LowCases.highAfterThreeHours();
  }

  private static List<Claim> farFalls(Scene s) {
    s.soundWell();
    far(s);
    s.soundUntilS = 0;
    s.twin(2).feels(f -> f.plus(Course.ramp(s.onsetS, 300, -1000)));
    return Claim.seenAndKept(s, s.onsetS + 30);
  }

  private static List<Claim> farSaid(Scene s) {
    s.soundWell();
    far(s);
    s.soundUntilS = 0;
    s.endS = 8 * Course.HOUR;
    return List.of(
        Claim.alarmNamingWithin("PT-2", 0, Scene.SHUT_S + 3600), Claim.namedStands("PT-2"));
  }

  private static List<Claim> farHigh(Scene s) {
    s.plateau(47_000);
    s.plan.withoutFacts();
    s.tide(10, 0.3);
    double off = 1000 * s.pick(5.3, 6, 8);
    s.twin(2).feels(f -> f.plus(Course.flat(off)));
    s.soundUntilS = 0;
    return List.of(Claim.highWithin(0, Scene.SHUT_S + Math.max(600, s.patienceS())));
  }

  private static List<Case> three() {
    String sentence = "A gauge: three gauges, two that respond outvote the third";
    return List.of(
        new Case("three-third-falls", sentence, GaugeCases::thirdFalls),
        new Case("three-two-plugged", sentence, GaugeCases::twoPlugged),
        new Case("three-all-see", sentence, GaugeCases::allSee));
  }

  private static List<Claim> thirdFalls(Scene s) {
    BenchGauge third = s.third();
    s.soundWell();
    double fall = -1000 * s.pick(0.3, 1, 3);
    third.feels(f -> f.plus(Course.ramp(s.onsetS, s.vary(0, 600), fall)));
    s.soundUntilS = s.endS;
    return List.of(
        Claim.alarmNamingWithin("PT-3", s.onsetS, 600 + Math.max(900, s.patienceS())),
        Claim.noHigh(0));
  }

  private static List<Claim> twoPlugged(Scene s) {
    BenchGauge third = s.third();
    s.soundWell();
    s.twin(2).plug(s.onsetS - 2400);
    third.plug(s.onsetS - 2400);
    s.soundUntilS = s.onsetS - 2400;
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> allSee(Scene s) {
    s.third();
    s.soundWell();
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Case> outOfPlace() {
    return List.of(
        new Case("unit-change", PLACE, GaugeCases::unitChange),
        new Case("unit-named", PLACE, GaugeCases::unitNamed),
        new Case("below-the-sea", PLACE, GaugeCases::belowSea),
        new Case("at-range-end", PLACE, GaugeCases::rangeEnd));
  }

  private static List<Claim> unitChange(Scene s) {
    s.soundWell();
    double factor = s.pick(1 / 6.894757, 1 / 98.0665, 0.01); // psi, kgf/cm2, bar read as kPa
    return outOfPlace(s, (t, v) -> t < s.onsetS ? v : v * factor);
  }

  private static List<Claim> unitNamed(Scene s) {
    unitChange(s);
    String unit = s.size == 0 ? "psi" : s.size == 1 ? "kgf" : "bar";
    return List.of(Claim.saidWithin(unit, s.onsetS, Math.max(300, 5 * s.periodS)));
  }

  private static List<Claim> rangeEnd(Scene s) {
    s.soundWell();
    double shown = s.pick(5_000, 103_500, 103_499);
    return outOfPlace(s, (t, v) -> t < s.onsetS ? v : shown);
  }

  private static List<Claim> belowSea(Scene s) {
    s.soundWell();
    double shown = 1000 * s.pick(6, 9, 13);
    return outOfPlace(s, (t, v) -> t < s.onsetS ? v : shown + (v - Math.rint(v)));
  }

  private static List<Claim> outOfPlace(Scene s, BenchGauge.Fault fault) {
    BenchGauge sick = s.twin(1 + s.seed % 2);
    sick.fault(fault);
    s.soundUntilS = s.endS;
    return List.of(
        Claim.gaugeAlarmWithin(sick.id, s.onsetS, Math.max(120, 5 * s.periodS)), Claim.noHigh(0));
  }

  private static List<Case> excluded() {
    return List.of(
        new Case("dead-twin-burst", NEVER, GaugeCases::deadBurst),
        new Case("drifting-twin-burst", NEVER, GaugeCases::driftBurst),
        new Case("drop-out-hides-burst", NEVER, GaugeCases::dropOutBurst),
        new Case("suspect-gauge-alone-sees", NEVER, GaugeCases::suspectSees),
        new Case(
            "re-zeroed-then-both-fall",
            "A gauge: a later fall of both by the same amount is seen at once",
            GaugeCases::rezeroBurst),
        new Case("tilt-steps", "Issue: tilt-change", GaugeCases::tilt));
  }

  private static List<Claim> deadBurst(Scene s) {
    s.soundWell();
    int dead = 1 + s.seed / 2 % 2;
    s.twin(dead).fault((t, v) -> t < s.onsetS - 3000 ? v : 0);
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> driftBurst(Scene s) {
    s.soundWell();
    s.twin(2).feels(f -> f.plus(Course.slope(Scene.SHUT_S + 1800, s.vary(60, -60))));
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> dropOutBurst(Scene s) {
    s.soundWell();
    double from = s.onsetS - 120;
    s.twin(1 + s.seed % 2).fault((t, v) -> t >= from && t < from + 900 ? 0 : v);
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  /** The second was re-zeroed and is named for it; then the first is plugged. */
  private static List<Claim> suspectSees(Scene s) {
    s.soundWell();
    s.twin(2).feels(f -> f.plus(Course.ramp(s.onsetS - 6000, 0, 100)));
    s.twin(1).plug(s.onsetS - 2400);
    s.soundUntilS = s.onsetS - 6000;
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), s.vary(120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> rezeroBurst(Scene s) {
    s.soundWell();
    double step = s.pick(50, 100, 200) * s.vary(1, -1);
    s.twin(2).feels(f -> f.plus(Course.ramp(s.onsetS - 5400, 0, step)));
    s.soundUntilS = s.onsetS - 5400;
    double visible = s.lose(500, s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> tilt(Scene s) {
    s.soundWell();
    double step = s.pick(0.2, 0.5, 2);
    s.gauge("TI-1").feels(f -> f.plus(Course.ramp(s.onsetS, 0, step)));
    return List.of(Claim.alarmNamingWithin("TI-1", s.onsetS, Math.max(900, 5 * s.periodS)));
  }
}
