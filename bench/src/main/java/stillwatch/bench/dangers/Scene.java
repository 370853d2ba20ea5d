package stillwatch.bench.dangers;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import stillwatch.bench.Seeds;
import stillwatch.ingest.telemetry.Operation;

/**
 * One run of a case while its script writes it: the demo plan's gauges on a closed form, what is
 * logged, how it comes. Times are seconds since the log's start. One thread at a time.
 */
final class Scene {
  static final String WELL = "larkspur-2";

  /** 2026-04-01T00:00:00Z. */
  static final long START_MS = 1_775_001_600_000L;

  /** When the last closing step is done, unless a script says otherwise. */
  static final double SHUT_S = 4200;

  final int periodS;
  final int size;
  final int seed;
  final SplittableRandom random;
  final DemoPlan plan = new DemoPlan();
  final Happenings log = new Happenings();
  final Map<String, BenchGauge> gauges = new LinkedHashMap<>();
  final double onsetS;

  /** What the well does; scripts add to it. */
  Course well = Course.flat(0);

  Course sea = Course.flat(14_200);
  Link link = Link.SOUND;

  /** By how many seconds a frame made then is stamped ahead. */
  DoubleUnaryOperator aheadS = s -> 0;

  /** Whether the rules read a recording that does not say when its rows were received. */
  boolean withoutReception;

  /** When somebody explains every change that alarms then speak of; never where infinite. */
  double explainedS = Double.POSITIVE_INFINITY;

  double endS = 5 * Course.HOUR;

  /** Until when an alarm about the well is false; NaN where nobody can say. */
  double soundUntilS;

  Scene(String name, int periodS, int size, int seed) {
    this.periodS = periodS;
    this.size = size;
    this.seed = seed;
    random = new SplittableRandom(Seeds.mix(name.hashCode(), periodS, size, seed));
    onsetS = 12_600 + random.nextInt(300);
    soundUntilS = onsetS;
    pressure("PT-1", periodS, 4);
    pressure("PT-2", periodS, -6);
    other("PA-1", 10, s -> sea.at(s) + 1, 0.03, 0.01);
    other("TT-1", 10, Course.flat(50.12), 0.02, 0.01);
    other("HY-1", 5, Course.flat(92.9), 0.5, 0.1);
    other("HY-2", 5, Course.flat(92.2), 0.5, 0.1);
    other("TI-1", 60, Course.flat(0.296), 0.004, 0.001);
  }

  private void pressure(String id, int period, double offset) {
    add(id, new BenchGauge(id, period, s -> well.at(s) + offset, 0.1, 0.01, random.split()));
  }

  private void other(String id, int usualS, Course felt, double noise, double resolution) {
    int period = Math.max(usualS, periodS);
    add(id, new BenchGauge(id, period, felt, noise, resolution, random.split()));
  }

  private void add(String id, BenchGauge gauge) {
    gauges.put(id, gauge);
    plan.gauge(id, "period", gauge.periodS + " s");
  }

  /** A third gauge in the well. */
  BenchGauge third() {
    plan.further("PT-3", "PT-2");
    pressure("PT-3", periodS, 2);
    return gauge("PT-3");
  }

  /** A gauge by its id. */
  BenchGauge gauge(String id) {
    BenchGauge gauge = gauges.get(id);
    if (gauge == null) {
      throw new IllegalArgumentException("no gauge " + id);
    }
    return gauge;
  }

  /** The gauge of this number, PT-1 or PT-2. */
  BenchGauge twin(int number) {
    return gauge("PT-" + number);
  }

  /** Both twins are changed alike. */
  void twins(java.util.function.Consumer<BenchGauge> change) {
    change.accept(twin(1));
    change.accept(twin(2));
  }

  /** The pressure gauge in the sea is not there. */
  void withoutAmbient() {
    plan.without("PA-1");
    gauges.remove("PA-1");
  }

  /** The value for this size. */
  double pick(double small, double middle, double large) {
    return size == 0 ? small : size == 1 ? middle : large;
  }

  /** One of several, by the seed. */
  double vary(double... values) {
    return values[seed % values.length];
  }

  /** How long somebody may wait for a sudden thing: a minute, or three readings. */
  double patienceS() {
    return Math.max(60, 3 * periodS);
  }

  /**
   * The sound well: with even seeds a build-up as the demo plan's facts have it, with odd ones a
   * plateau in the intact band and no facts; each with a tide.
   */
  void soundWell() {
    if (seed % 2 == 0) {
      buildUp();
    } else {
      plateau(47_000);
      plan.withoutFacts();
    }
    tide(10, 0.3);
  }

  /** A build-up within the demo plan's facts, closed and logged. */
  void buildUp() {
    List<Step> steps = Step.six(1200, 600);
    well = well.plus(Course.buildUp(48_300, 700, steps));
    logClosing(steps);
  }

  /** A well that stands at a level from its last step on, closed and logged. */
  void plateau(double kPa) {
    List<Step> steps = Step.six(1200, 600);
    well = well.plus(Course.plateau(kPa, steps));
    logClosing(steps);
  }

  /** A tide in the sea, of which the well feels a share. */
  void tide(double amplitude, double share) {
    Course tide = Course.tide(amplitude, random.nextDouble());
    sea = sea.plus(tide);
    well = well.plus(tide.times(share));
  }

  /** Logs steps and phases as the demo plan names them. */
  void logClosing(List<Step> steps) {
    phase(steps.get(0).atS() - 60, "closing");
    logSteps(steps);
    phase(steps.get(steps.size() - 1).atS() + 120, "watching");
  }

  /** Logs steps without phases. */
  void logSteps(List<Step> steps) {
    steps.forEach(step -> log.did(step.atS(), Operation.What.CLOSURE_STEP, step.text()));
  }

  /** Logs a phase. */
  void phase(double atS, String name) {
    log.did(atS, Operation.What.PHASE, name);
  }

  /** Three minutes of shaking that every absolute gauge feels. */
  void quake(double amplitude, double from) {
    Course shake =
        Course.sine(0.6, 7.3, random.nextDouble())
            .plus(Course.sine(0.4, 13.1, random.nextDouble()));
    Course felt =
        t ->
            t < from || t > from + 180
                ? 0
                : amplitude * Math.sin(Math.PI * (t - from) / 180) * shake.at(t);
    well = well.plus(felt);
    sea = sea.plus(felt);
  }

  /** The sound at both hydrophones or one rises by so many dB from then until then. */
  void sound(double fromS, double toS, double dB, String... hydrophones) {
    Course rise = Course.hump(fromS, 20, toS - fromS, 20, dB);
    for (String id : hydrophones.length == 0 ? new String[] {"HY-1", "HY-2"} : hydrophones) {
      gauge(id).feels(f -> f.plus(rise));
    }
  }

  /**
   * The well loses pressure in a straight line from the onset on.
   *
   * @return when somebody with the gauges' accuracy could see it
   */
  double lose(double kPa, double overS) {
    return lose(Course.ramp(onsetS, overS, -kPa));
  }

  /**
   * The well loses pressure.
   *
   * @return the second in which three accuracies (60 kPa) are lost and the pressure is as far under
   *     its highest
   */
  double lose(Course loss) {
    well = well.plus(loss);
    double highest = Double.NEGATIVE_INFINITY;
    for (double s = 0; s < endS; s++) {
      double pressure = well.at(s);
      highest = Math.max(highest, pressure);
      if (loss.at(s) <= -60 && pressure <= highest - 60) {
        return s;
      }
    }
    throw new IllegalStateException("a loss that nobody can see before the end");
  }

  /** The time as in the log. */
  static long ms(double s) {
    return START_MS + Math.round(s * 1000);
  }
}
