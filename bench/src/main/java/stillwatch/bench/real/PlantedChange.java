package stillwatch.bench.real;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;

/**
 * Something planted into a quiet stretch, whose tree pressure is read by two gauges, A and B: B is
 * A with 12 kPa more and white noise of 0.3 kPa.
 *
 * @param name its name in the table
 * @param loss whether the well truly loses pressure
 * @param change what it makes of both gauges
 */
record PlantedChange(String name, boolean loss, Change change) {
  private static final double[] LOSSES_KPA = {60, 100, 300, 1000, 3000};

  /** Changes the gauges from an onset on. */
  @FunctionalInterface
  interface Change {
    /** What a gauge reads so many seconds after the onset, Pa; the second gauge where asked. */
    double of(double afterS, double value, boolean second, Pair at);
  }

  /**
   * What a change may need besides.
   *
   * @param onsetValue what this gauge read at the onset, Pa
   * @param random a draw of its own for each row, from 0 to 1
   */
  record Pair(double onsetValue, double random) {}

  static List<PlantedChange> all() {
    List<PlantedChange> all = new ArrayList<>();
    all.add(new PlantedChange("nothing", false, (t, v, second, at) -> v));
    for (double kPa : LOSSES_KPA) {
      all.add(loss("both lose %.0f kPa within a minute", kPa, 60));
    }
    for (double kPa : new double[] {300, 1000}) {
      all.add(loss("both lose %.0f kPa within 10 minutes", kPa, 600));
    }
    for (double perHour : new double[] {60, 200, 600}) {
      all.add(loss("both lose %.0f kPa/h", perHour, 3600));
    }
    for (double kPa : new double[] {300, 1000}) {
      all.add(
          new PlantedChange(
              "A loses %.0f kPa within a minute, B is plugged".formatted(kPa),
              true,
              (t, v, second, at) ->
                  second ? at.onsetValue() + 1000 * (at.random() - 0.5) : v - lost(t, kPa, 60)));
    }
    all.add(one("B drops out to 0 for 5 min, at once", (t, v) -> t < 300 ? 0 : v));
    all.add(one("B drops out to 0 over a minute", (t, v) -> v * Math.max(0, 1 - up(t, 60, 600))));
    all.add(one("B drifts down 20 kPa/h", (t, v) -> v - 20_000 * t / 3600));
    all.add(one("B drifts up 60 kPa/h", (t, v) -> v + 60_000 * t / 3600));
    all.add(one("B is re-zeroed by 100 kPa", (t, v) -> v + 100_000));
    all.add(
        new PlantedChange(
            "B glitches for 2 min",
            false,
            (t, v, second, at) -> second && t < 120 ? v * 2 * at.random() : v));
    return all;
  }

  private static PlantedChange loss(String name, double kPa, double overS) {
    boolean endless = overS == 3600;
    return new PlantedChange(
        name.formatted(kPa),
        true,
        (t, v, second, at) -> v - (endless ? 1000 * kPa * t / 3600 : lost(t, kPa, overS)));
  }

  private interface One {
    double of(double t, double value);
  }

  private static PlantedChange one(String name, One change) {
    return new PlantedChange(name, false, (t, v, second, at) -> second ? change.of(t, v) : v);
  }

  private static double lost(double t, double kPa, double overS) {
    return 1000 * kPa * Math.min(1, t / overS);
  }

  /** From 0 up to 1 within a ramp, and back within another at the end. */
  private static double up(double t, double rampS, double lastsS) {
    return Math.max(0, Math.min(1, Math.min(t, lastsS - t) / rampS));
  }

  /** The stretch with this planted at a row. */
  Series into(Series quiet, int onset, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    double[] tree = quiet.of(Series.TREE);
    double[] a = new double[tree.length];
    double[] b = new double[tree.length];
    for (int i = 0; i < tree.length; i++) {
      a[i] = tree[i];
      b[i] = tree[i] + 12_000 + 300 * random.nextGaussian();
    }
    double firstA = a[onset];
    double firstB = b[onset];
    for (int i = onset; i < tree.length; i++) {
      double after = (i - onset) * (double) quiet.everyS();
      a[i] = change.of(after, a[i], false, new Pair(firstA, random.nextDouble()));
      b[i] = change.of(after, b[i], true, new Pair(firstB, random.nextDouble()));
    }
    Map<String, double[]> columns = new LinkedHashMap<>();
    columns.put("A", a);
    columns.put("B", b);
    return quiet.with(columns);
  }
}
