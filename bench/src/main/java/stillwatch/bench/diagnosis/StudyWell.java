package stillwatch.bench.diagnosis;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import stillwatch.rules.well.BuildUp;
import stillwatch.rules.well.ExponentialIntegral;
import stillwatch.rules.well.FlowHistory;
import stillwatch.rules.well.Hydrophone;
import stillwatch.rules.well.HydrophoneLevels;
import stillwatch.rules.well.Uncertain;

/**
 * A well drawn at random: closed in six steps, its leak fed back through the reservoir step by
 * step, its column cooling, the tide in it, the gauge noisy. All pressures kPa, times hours from
 * the start of its flow.
 */
final class StudyWell {
  private static final double[] LEAVES = {0.8, 0.6, 0.42, 0.25, 0.1, 0};
  private static final double STEP_HOURS = 0.3;
  private static final double FLOWED = 1440;
  private static final double FRICTION = 20_000;
  private static final double X_HOURS = 5e-6;
  private static final double FINE = 10 / 3600.0;

  /**
   * What the facts say of two hydrophones 30 and 40 m away. By Lighthill's eighth power law (Proc.
   * R. Soc. Lond. A 211, 1952, and 222, 1954) a jet turns 1e-5 to 1e-3 times the fifth power of its
   * Mach number into sound. 0.13 m³/s flowed; one per cent of it through 30 MPa, at 830 kg/m³, is
   * 39 kW, of which 0.07 to 7 mW are heard: 129 to 149 dB re 1 µPa at 1 m, less 20 log10 of the
   * distance.
   */
  static final List<Hydrophone> EARS =
      List.of(
          new Hydrophone("near", Uncertain.between(100, 106), Uncertain.between(100, 120)),
          new Hydrophone("far", Uncertain.between(100, 106), Uncertain.between(97, 117)));

  private static final double[][] TIDE = {
    {28.9841042, 6.0}, {30.0, 2.0}, {15.0410686, 1.5}, {13.9430356, 1.0}
  };

  final double leadsTo;
  final Fate fate;
  private final SplittableRandom random;
  private final double slope;
  private final double sag;
  private final double sagHours;
  private final double tideShare;
  private final double tidePhase;
  private final double noise;
  private final double fillHours;
  private final double[] shares;
  private final double outside;
  private final double leakFrom;
  private final double loudness;
  private final double[] background = new double[2];
  private final List<List<HydrophoneLevels.Level>> levels =
      List.of(new ArrayList<>(), new ArrayList<>());

  StudyWell(Fate fate, long seed) {
    this.fate = fate;
    random = new SplittableRandom(seed); // of Random, neighbouring seeds draw alike
    double level = 46_900 + 600 * random.nextGaussian();
    leadsTo = level - (fate.depleted() ? 1000 + 2000 * random.nextDouble() : 0);
    slope = Math.max(350, Math.min(1000, 650 + 150 * random.nextGaussian()));
    sag = 8 + 28 * random.nextDouble();
    sagHours = 8 + 30 * random.nextDouble();
    tideShare = 0.02 + 0.1 * random.nextDouble();
    tidePhase = 360 * random.nextDouble();
    noise = 0.05 * Math.pow(10, random.nextDouble());
    fillHours = (10 + 20 * random.nextDouble()) / 3600;
    shares = LEAVES.clone();
    for (int i = 0; i < shares.length - 1; i++) {
      shares[i] += 0.01 * random.nextGaussian();
    }
    outside = fate.toSea() ? 14_200 : 40_400 + 700 * random.nextGaussian();
    loudness = random.nextDouble();
    background[0] = 100 + 6 * random.nextDouble();
    background[1] = 100 + 6 * random.nextDouble();
    leakFrom = fate.late() ? shutIn() + 3 + 5 * random.nextDouble() : Double.NEGATIVE_INFINITY;
  }

  static double shutIn() {
    return FLOWED + STEP_HOURS * (LEAVES.length - 1);
  }

  /** What the plan says of its flow. */
  private static FlowHistory planned(int steps) {
    List<FlowHistory.Step> all = new ArrayList<>();
    all.add(new FlowHistory.Step(0, 1));
    for (int i = 0; i < steps; i++) {
      all.add(new FlowHistory.Step(FLOWED + i * STEP_HOURS, LEAVES[i]));
    }
    return new FlowHistory(all);
  }

  /** Whether so long after the shut-in it is sound, or its leak is as old as that, hours. */
  boolean hasLeakedFor(double least, double sinceShutIn) {
    return fate.share() == 0 || leakFrom + least <= shutIn() + sinceShutIn;
  }

  /** Sees an hour after another of the build-up. */
  interface Watcher {
    void hour(int sinceShutIn, BuildUp buildUp, List<HydrophoneLevels> heard);
  }

  /** What its two hydrophones heard so far. */
  List<HydrophoneLevels> heard() {
    List<HydrophoneLevels> all = new ArrayList<>();
    for (int i = 0; i < EARS.size(); i++) {
      all.add(new HydrophoneLevels(EARS.get(i), List.copyOf(levels.get(i))));
    }
    return all;
  }

  /** Ten minutes of both: background and leak added as powers, a vessel in one of five hours. */
  private void listen(double t, double leak) {
    double vessel = Math.floorMod((long) Math.floor(t), 5) == 2 ? Math.pow(10, 11.5) : 0;
    for (int i = 0; i < EARS.size(); i++) {
      Uncertain loud = EARS.get(i).onePercent();
      double of = fate.toSea() ? leak / 0.01 : 0;
      double power =
          Math.pow(10, background[i] / 10)
              + of * Math.pow(10, (loud.low() + loudness * (loud.high() - loud.low())) / 10)
              + vessel;
      if (levels.get(i).size() == 36) {
        levels.get(i).remove(0);
      }
      levels
          .get(i)
          .add(new HydrophoneLevels.Level(t, 10 * Math.log10(power) + random.nextGaussian()));
    }
  }

  /** Lives for so many hours after the shut-in. */
  void live(int hours, Watcher watcher) {
    BuildUp buildUp = null;
    int steps = 0;
    Leaking leaking = new Leaking();
    double size = size();
    double pressure = leadsTo - slope * (Math.log10(FLOWED) + 5.05) - FRICTION;
    if (fate.share() > 0 && !fate.late()) {
      leaking.change(0, leak(size, pressure, perUnit(FLOWED)));
      pressure -= leaking.rate * perUnit(FLOWED);
    }
    double filled = pressure;
    int told = 0;
    double end = shutIn() + hours;
    for (double t = FLOWED + FINE; t < end + FINE; t += FINE) {
      while (steps < LEAVES.length && t >= FLOWED + steps * STEP_HOURS) {
        steps++;
        if (buildUp == null) {
          buildUp = new BuildUp(planned(steps), filled, Uncertain.between(5, 40));
        } else {
          buildUp.step(planned(steps));
        }
      }
      double now = without(t) - leaking.drawn(t);
      if (fate.share() > 0 && t >= leakFrom) {
        double next = leak(size, now + leaking.rate * perUnit(FINE), perUnit(FINE));
        if (Math.abs(next - leaking.rate) > 1e-5) { // small changes wait until they add up
          leaking.change(t - FINE / 2, next);
        }
      }
      filled += (now - filled) * (1 - Math.exp(-FINE / fillHours));
      double sea = tide(t);
      double since = t - shutIn();
      double reading = reading(filled, since, sea);
      if (buildUp != null) {
        buildUp.accept(t, reading, 14_200 + sea + 0.02 * random.nextGaussian());
        if (since >= 0 && Math.floor(t * 6) > Math.floor((t - FINE) * 6)) {
          listen(t, leaking.rate);
        }
        if (since >= told + 1) {
          told++;
          watcher.hour(told, buildUp, heard());
        }
      }
    }
  }

  private double reading(double filled, double since, double sea) {
    double cooled = since > 0 ? sag * (1 - Math.exp(-since / sagHours)) : 0;
    return filled
        - cooled
        + tideShare * sea
        + noise / Math.sqrt(FINE * 3600) * random.nextGaussian();
  }

  /** A leak's changes, and what they take off the pressure. */
  private final class Leaking {
    private final List<Double> at = new ArrayList<>();
    private final List<Double> by = new ArrayList<>();
    private double rate;

    void change(double hours, double to) {
      at.add(hours);
      by.add(to - rate);
      rate = to;
    }

    double drawn(double t) {
      double drawn = 0;
      for (int j = 0; j < at.size(); j++) {
        drawn += by.get(j) * perUnit(t - at.get(j));
      }
      return drawn;
    }
  }

  /** About where a well that leaks its share of the flow stands after the shut-in. */
  private double shut() {
    return leadsTo - 2 * slope - fate.share() * slope * 8;
  }

  /** Whether such a leak is possible in it: it stands above what the leak leads to. */
  boolean possible() {
    return shut() > outside + 100;
  }

  /** The size with which the leak takes its share of the flow at about the shut-in pressure. */
  private double size() {
    return fate.share() == 0 ? 0 : fate.share() / rate(shut());
  }

  /** The rate that goes with the pressure it leaves: less by {@code perUnit} for a unit of it. */
  private double leak(double size, double without, double perUnit) {
    double above = Math.max(0, without - outside);
    double back = size * perUnit;
    return fate.toSea()
        ? size * (Math.sqrt(back * back + 4 * above) - back) / 2
        : size * above / (1 + back);
  }

  private double rate(double pressure) {
    double above = Math.max(0, pressure - outside);
    return fate.toSea() ? Math.sqrt(above) : above;
  }

  private double without(double t) {
    double p = leadsTo - perUnit(t);
    double rate = 1;
    for (int i = 0; i < shares.length; i++) {
      double at = FLOWED + i * STEP_HOURS;
      if (t > at) {
        p += (rate - shares[i]) * perUnit(t - at);
        rate = shares[i];
      }
    }
    return p - FRICTION * rate * rate;
  }

  private double perUnit(double hours) {
    return hours <= 0 ? 0 : slope / Math.log(10) * ExponentialIntegral.e1(X_HOURS / hours);
  }

  private double tide(double t) {
    double kPa = 0;
    for (double[] c : TIDE) {
      kPa += c[1] * Math.cos(Math.toRadians(c[0] * t + tidePhase));
    }
    return kPa;
  }
}
