package stillwatch.bench.dangers;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.Consumer;
import stillwatch.bench.Seeds;
import stillwatch.ingest.telemetry.Operation.What;

/** What must stay quiet about the well above LOW. */
final class QuietCases {
  private static final String WOLF = "Crying wolf: ";

  private QuietCases() {}

  static List<Case> all() {
    List<Case> all = new ArrayList<>();
    all.add(quiet("tide", Case.ALL, QuietCases::tide));
    all.add(quiet("tide-no-ambient", Case.ALL, QuietCases::tideAlone));
    all.add(quiet("swell", Case.ALL, QuietCases::swelling));
    all.add(quiet("cooling", Case.ALL, QuietCases::cooling));
    all.add(quiet("drop-outs", Case.ALL, s -> dropOuts(s, 0)));
    all.add(quiet("drop-outs-as-ramps", Case.ALL, s -> dropOuts(s, s.pick(10, 40, 120))));
    all.add(quiet("spikes", Case.FAST, QuietCases::spikes));
    all.add(quiet("glitches", Case.FAST, QuietCases::glitches));
    all.add(quiet("drifting-twin", Case.ALL, QuietCases::drift));
    all.add(quiet("drifting-twin-calm", Case.ALL, QuietCases::driftInCalm));
    all.add(quiet("wandering-twin", Case.ALL, QuietCases::wander));
    all.add(quiet("vessels", Case.ALL, QuietCases::vessels));
    all.add(quiet("vessel-stays-for-hours", Case.ALL, QuietCases::vesselStays));
    all.add(quiet("re-zeroing-logged", Case.ALL, QuietCases::rezeroLogged));
    all.add(quiet("part-turn-held", Case.ALL, QuietCases::heldThenClosed));
    all.add(quiet("unlogged-rise-flattens", Case.ALL, QuietCases::riseFlattens));
    all.add(quiet("earthquake", Case.ALL, s -> quaking(s)));
    all.add(quiet("re-zeroing-down", Case.FAST, s -> rezero(s, -1)));
    all.add(quiet("re-zeroing-up", Case.ALL, s -> rezero(s, 1)));
    all.add(quiet("calm-coarse", Case.ALL, QuietCases::calm));
    all.add(quiet("archive-lines", Case.ALL, QuietCases::archive));
    all.add(quiet("silent-twin", Case.ALL, QuietCases::silent));
    all.add(quiet("ambient-with-gaps", Case.ALL, QuietCases::ambientGaps));
    all.add(
        new Case(
            "slow-gauges-are-not-silent",
            "A gauge: feed-silent and the page's age follow the periods of the plan",
            QuietCases::notSilent));
    return all;
  }

  private static List<Claim> notSilent(Scene s) {
    s.soundWell();
    s.soundUntilS = s.endS;
    return List.of(Claim.noHighAtAll(), Claim.quiet());
  }

  private static Case quiet(String name, List<Integer> periods, Consumer<Scene> writes) {
    return new Case(
        name,
        WOLF + name.replace('-', ' '),
        periods,
        scene -> {
          scene.endS = 8 * Course.HOUR;
          writes.accept(scene);
          scene.soundUntilS = scene.endS;
          return List.of(Claim.quiet());
        });
  }

  /** What an archive makes of a course: straight lines between points so far apart. */
  static Course lines(Course course, double everyS) {
    return s -> {
      double before = everyS * Math.floor(s / everyS);
      double share = (s - before) / everyS;
      return (1 - share) * course.at(before) + share * course.at(before + everyS);
    };
  }

  private static void tide(Scene s) {
    s.buildUp();
    s.endS = 26 * Course.HOUR;
    s.tide(15, s.pick(0.2, 0.6, 1));
  }

  private static void tideAlone(Scene s) {
    s.buildUp();
    s.endS = 26 * Course.HOUR;
    s.tide(s.pick(3, 6, 10), 1);
    s.withoutAmbient();
  }

  private static void swelling(Scene s) {
    s.soundWell();
    s.well = s.well.plus(Course.swell(s.pick(5, 10, 20), s.random));
    s.sea = s.sea.plus(Course.swell(20, s.random));
  }

  private static void cooling(Scene s) {
    s.buildUp();
    s.endS = 26 * Course.HOUR;
    s.tide(10, 0.3);
    s.well = s.well.plus(Course.settling(Scene.SHUT_S, 8 * Course.HOUR, -s.pick(10, 25, 40)));
  }

  private static void dropOuts(Scene s, double rampS) {
    s.soundWell();
    double lasts = s.vary(30, 300, 1200) + rampS;
    BenchGauge gauge = s.twin(1 + s.seed % 2);
    for (double at : new double[] {s.onsetS - 1800, s.onsetS + 3000, s.onsetS + 9000}) {
      gauge.fault((t, v) -> droppedOut(t, v, at, lasts, rampS));
    }
  }

  /** A value, or what is left of it while its gauge drops out to nothing. */
  static double droppedOut(double t, double value, double fromS, double lastsS, double rampS) {
    double inside = Math.min(t - fromS, fromS + lastsS + rampS - t);
    return inside < 0 ? value : rampS == 0 ? 0 : value * Math.max(0, 1 - inside / rampS);
  }

  private static void spikes(Scene s) {
    s.soundWell();
    BenchGauge gauge = s.twin(1 + s.seed % 2);
    SplittableRandom random = s.random.split();
    double size = s.pick(100, 500, 3000);
    gauge.fault((t, v) -> random.nextDouble() < 1.0 / 900 ? v - size : v);
  }

  /** Four bursts of nonsense, as electronics make. */
  private static void glitches(Scene s) {
    s.soundWell();
    BenchGauge gauge = s.twin(1 + s.seed % 2);
    SplittableRandom random = s.random.split();
    double lasts = s.pick(20, 120, 600);
    for (double at : new double[] {s.onsetS - 3000, s.onsetS, s.onsetS + 5000, s.onsetS + 7000}) {
      gauge.fault((t, v) -> t >= at && t < at + lasts ? v * random.nextDouble() : v);
    }
  }

  private static void drift(Scene s) {
    s.buildUp();
    s.tide(15, 0.7);
    double perHour = s.pick(5, 20, 60) * s.vary(-1, 1);
    s.twin(1 + s.seed / 2 % 2).feels(f -> f.plus(Course.slope(s.onsetS, perHour)));
    s.endS = s.onsetS + 9 * Course.HOUR;
  }

  /** Nothing but the tide moves the well while one gauge drifts down. */
  private static void driftInCalm(Scene s) {
    s.plateau(47_000);
    s.plan.withoutFacts();
    s.tide(8, 0.8);
    double perHour = s.pick(8, 16, 24);
    s.twin(1 + s.seed % 2).feels(f -> f.plus(Course.slope(s.onsetS, -perHour)));
    s.endS = 22 * Course.HOUR;
  }

  private static void wander(Scene s) {
    s.buildUp();
    s.tide(15, 0.7);
    double size = s.pick(10, 25, 50);
    Course wander =
        Course.sine(size * 0.5, 1.3 * 3600, s.random.nextDouble())
            .plus(Course.sine(size * 0.3, 2.9 * 3600, s.random.nextDouble()))
            .plus(Course.sine(size * 0.2, 47 * 60, s.random.nextDouble()));
    s.twin(1 + s.seed % 2).feels(f -> f.plus(wander));
  }

  private static void vessels(Scene s) {
    s.soundWell();
    double dB = s.pick(6, 10, 15);
    for (int i = 0; i < 3; i++) {
      double from = s.onsetS - 3000 + i * 5400;
      double to = from + 2400 + 600 * i;
      if (s.seed == 4) {
        s.log.did(from - 60, What.ROV, "vehicle at the wellhead");
        s.log.did(to + 60, What.ROV_OUT, "vehicle back on deck");
      } else {
        s.log.did(from - 60, What.VESSEL, "supply boat on station, 80 m");
        s.log.did(to + 60, What.VESSEL_LEFT, "supply boat has left");
      }
      if (i % 2 == s.seed % 2) {
        s.sound(from, to, dB, "HY-1");
      } else {
        s.sound(from, to, dB);
      }
    }
  }

  private static void vesselStays(Scene s) {
    s.soundWell();
    s.log.did(s.onsetS - 60, What.VESSEL, "supply boat on station, 80 m");
    s.sound(s.onsetS, s.onsetS + 3.5 * Course.HOUR, s.pick(6, 10, 15));
    s.log.did(s.onsetS + 3.5 * Course.HOUR + 60, What.VESSEL_LEFT, "supply boat has left");
  }

  private static void rezeroLogged(Scene s) {
    s.soundWell();
    double step = s.pick(30, 100, 200) * s.vary(1, -1);
    BenchGauge gauge = s.twin(1 + s.seed / 2 % 2);
    s.log.worked(s.onsetS - 60, What.GAUGE_ZEROED, gauge.id, "zero set again");
    gauge.feels(f -> f.plus(Course.ramp(s.onsetS, 0, step)));
  }

  private static void heldThenClosed(Scene s) {
    List<Step> steps = new ArrayList<>();
    int held = 1 + s.size; // the second, third or fourth
    for (Step step : Step.six(1200, 600)) {
      double later = steps.size() > held ? 4 * Course.HOUR : 0;
      steps.add(new Step(step.atS() + later, step.rate(), step.text()));
    }
    s.well = Course.buildUp(48_300, 700, steps);
    s.logClosing(steps);
    s.tide(10, 0.3);
  }

  private static void riseFlattens(Scene s) {
    s.soundWell();
    s.well = s.well.plus(Course.ramp(s.onsetS, s.vary(1800, 3600), s.pick(20, 60, 180)));
  }

  private static void quaking(Scene s) {
    s.soundWell();
    s.quake(s.pick(100, 300, 800), s.onsetS);
  }

  private static void rezero(Scene s, int sign) {
    s.soundWell();
    double step = sign * s.pick(30, 100, 200);
    s.twin(1 + s.seed / 2 % 2).feels(f -> f.plus(Course.ramp(s.onsetS, 0, step)));
  }

  private static void calm(Scene s) {
    double step = s.pick(1, 5, 20);
    s.twins(g -> g.resolution(step));
    if (s.seed / 2 % 2 == 0) {
      s.plan.gauge("PT-1", "resolution", step + " kPa").gauge("PT-2", "resolution", step + " kPa");
    } else {
      s.plan.gauge("PT-1", "resolution", "0 kPa").gauge("PT-2", "resolution", "0 kPa");
    }
    s.soundWell();
    s.endS = 14 * Course.HOUR;
  }

  private static void archive(Scene s) {
    s.soundWell();
    double every = s.pick(60, 120, 300);
    SplittableRandom random = s.random.split();
    long salt = random.nextLong();
    Course points = t -> 0.5 * new SplittableRandom(Seeds.mix(salt, (long) t)).nextGaussian();
    s.twins(g -> g.feels(f -> lines(f.plus(points), every)));
    s.twins(g -> g.noise(0));
  }

  private static void silent(Scene s) {
    s.soundWell();
    double lasts = s.pick(300, 3600, 4 * 3600);
    s.twin(1 + s.seed % 2).fault((t, v) -> t >= s.onsetS && t < s.onsetS + lasts ? Double.NaN : v);
  }

  private static void ambientGaps(Scene s) {
    s.buildUp();
    s.tide(15, 0.7);
    double gap = s.pick(300, 900, 3600);
    s.gauge("PA-1").fault((t, v) -> t % (2 * gap + 700) < gap ? Double.NaN : v);
  }
}
