package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.DoubleStream;

/** Which leaks are tried on a build-up: where to, and since when. */
final class LeakTrials {
  /** What rock takes is tried at so many deviations off. */
  private static final double[] OFF = {-1.6, -0.8, 0, 0.8, 1.6};

  /** And as little under the newest pressure, kPa: rock that takes much pins the pressure. */
  private static final double[] UNDER = {50, 100, 200, 400};

  /** A leak that began so many hours ago is tried too. */
  private static final double[] AGO = {0.2, 0.5, 1};

  private final Expectation expected;
  private final List<BuildUp.Observed> seen;
  private final double flowing;
  private final double flowSince;
  private final double shutIn;
  private final double end;

  /**
   * Of a build-up.
   *
   * @param seen the means that the leaks are fitted to
   * @param shutIn hours at which the last step shut the well in
   * @param end hours of the newest mean
   */
  LeakTrials(
      BuildUp.Snapshot buildUp,
      Expectation expected,
      List<BuildUp.Observed> seen,
      double shutIn,
      double end) {
    this.expected = expected;
    this.seen = seen;
    this.shutIn = shutIn;
    this.end = end;
    flowing = buildUp.flowing();
    flowSince = buildUp.flow().steps().get(0).atHours();
  }

  /** Every leak to be tried: each place, from always or from some time after the shut-in. */
  List<Leak> all() {
    List<Double> since = new ArrayList<>();
    for (double h = 0.5; shutIn + 1.2 * h < end; h *= 1.35) {
      since.add(shutIn + h);
    }
    for (double ago : AGO) {
      if (shutIn + 0.5 < end - ago) {
        since.add(end - ago);
      }
    }
    List<Leak> leaks = new ArrayList<>();
    leaks.add(leak(Explanation.LEAK_TO_SEA, expected.sea(), 0, Double.NEGATIVE_INFINITY));
    for (double from : since) {
      leaks.add(leak(Explanation.LEAK_TO_SEA, expected.sea(), 0, from));
    }
    for (Estimate takes : expected.takes()) {
      double[] offs = offs(takes);
      for (int i = 0; i < offs.length; i++) {
        double outside = takes.value() + offs[i] * takes.deviation();
        double stands = // for its stretch of what the rock may take
            (offs[Math.min(i + 1, offs.length - 1)] - offs[Math.max(i - 1, 0)]) / 2;
        double before = StrictMath.log(stands) - offs[i] * offs[i] / 2;
        leaks.add(leak(Explanation.LEAK_TO_ROCK, outside, before, Double.NEGATIVE_INFINITY));
      }
      double under = Math.min(takes.value(), newest() - UNDER[UNDER.length - 1]);
      for (double from : since) { // what the rock takes matters less to one that begins late
        leaks.add(leak(Explanation.LEAK_TO_ROCK, under, 0, from));
      }
    }
    return leaks;
  }

  private double newest() {
    return seen.isEmpty() ? flowing : seen.get(seen.size() - 1).pressure();
  }

  /** At which deviations off what rock takes is tried, in order. */
  private double[] offs(Estimate takes) {
    DoubleStream near =
        Arrays.stream(UNDER)
            .map(under -> (newest() - under - takes.value()) / takes.deviation())
            .filter(off -> Math.abs(off) < 2);
    return DoubleStream.concat(Arrays.stream(OFF), near).sorted().distinct().toArray();
  }

  private Leak leak(Explanation explanation, double outside, double before, double from) {
    return new Leak(explanation, outside, before, from, seen, flowing, flowSince);
  }
}
