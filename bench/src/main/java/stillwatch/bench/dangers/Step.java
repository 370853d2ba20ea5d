package stillwatch.bench.dangers;

import java.util.ArrayList;
import java.util.List;

/**
 * A closing step.
 *
 * @param atS when, seconds since the log's start
 * @param rate the share of the flow it leaves
 * @param text its text in the demo plan
 */
record Step(double atS, double rate, String text) {
  /** What the choke takes off the pressure at full flow, kPa. */
  static final double CHOKE_KPA = 20_000;

  private static final double[] RATES = {0.8, 0.6, 0.42, 0.25, 0.1, 0};

  /** The six steps of the demo plan, one every so many seconds. */
  static List<Step> six(double firstS, double everyS) {
    List<Step> steps = new ArrayList<>();
    for (int i = 0; i < RATES.length; i++) {
      String text = "choke part-turn " + (i + 1) + " of 6" + (RATES[i] == 0 ? ", shut" : "");
      steps.add(new Step(firstS + i * everyS, RATES[i], text));
    }
    return steps;
  }

  /** By how much the pressure before the choke rises from one rate to the next, kPa. */
  static double choke(double from, double to) {
    return CHOKE_KPA * (from * from - to * to);
  }
}
