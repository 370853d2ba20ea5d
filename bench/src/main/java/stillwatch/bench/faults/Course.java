package stillwatch.bench.faults;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.plan.Plan;

/**
 * Two pressures of the invented well, a second apart: the small movements of the demo's recording
 * on a level that steps up and down by seed, so that alarms come and go all the time.
 */
final class Course {
  /** The gauges, in the order of {@link #at}. */
  static final List<String> GAUGES = List.of("PT-1", "PT-2");

  /** Seconds at the beginning in which the level is held, so that the rules know it. */
  static final int QUIET = 180;

  private static final Path RECORDING = Path.of("demo-data/larkspur/sick-gauge.csv.gz");

  /** Seconds of the recording that are passed over: the well still closes. */
  private static final int LEFT_OUT = 40_000;

  private static final int KEPT = 3_000;
  private static final double LEVEL_KPA = 46_900;

  /** Levels above the usual one, kPa: a small and a large loss, and beyond the ceiling. */
  private static final double[] STEPS_KPA = {0, -450, -2_000, 5_600};

  private static final int SHORTEST_S = 12;
  private static final int LONGEST_S = 40;

  private final List<double[]> movements;
  private final Random random;
  private final List<Double> levels = new ArrayList<>();

  private Course(List<double[]> movements, long seed) {
    this.movements = movements;
    random = new Random(seed);
  }

  /** The course of a seed. */
  static Course of(Plan plan, long seed) throws IOException {
    List<double[]> movements = new ArrayList<>();
    try (RecordingFeed feed = RecordingFeed.open(RECORDING, plan.recordings(), new Problems())) {
      int passed = 0;
      for (Telemetry t = feed.next(); t != null && movements.size() < KEPT; t = feed.next()) {
        if (t instanceof Frame f && passed++ >= LEFT_OUT) {
          double[] both = both(f);
          if (!Double.isNaN(both[0]) && !Double.isNaN(both[1])) {
            movements.add(both);
          }
        }
      }
    }
    double[] first = movements.get(0).clone();
    for (double[] m : movements) {
      m[0] -= first[0];
      m[1] -= first[1];
    }
    return new Course(movements, seed);
  }

  private static double[] both(Frame f) {
    double[] both = {Double.NaN, Double.NaN};
    for (int i = 0; i < f.values().length; i++) {
      int which = GAUGES.indexOf(f.gauges().ids().get(i));
      if (which >= 0) {
        both[which] = f.values()[i];
      }
    }
    return both;
  }

  /** Both pressures of this second from the beginning, kPa, two decimals. */
  double[] at(int second) {
    while (levels.size() <= second) {
      int forS = SHORTEST_S + random.nextInt(LONGEST_S - SHORTEST_S);
      double step = levels.size() < QUIET ? 0 : STEPS_KPA[random.nextInt(STEPS_KPA.length)];
      for (int i = 0; i < forS; i++) {
        levels.add(LEVEL_KPA + step);
      }
    }
    double[] m = movements.get(second % movements.size());
    double level = levels.get(second);
    return new double[] {rounded(level + m[0]), rounded(level - 6 + m[1])};
  }

  private static double rounded(double kPa) {
    return Math.round(kPa * 100) / 100.0;
  }
}
