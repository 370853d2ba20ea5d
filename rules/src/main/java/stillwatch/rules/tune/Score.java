package stillwatch.rules.tune;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.watch.RuleTrials.Raise;

/**
 * How one rule did.
 *
 * @param happenings labels it is meant to see
 * @param missed of those, on how many it did not raise while they lasted
 * @param late of those it saw, how many later than the catalogue promises
 * @param delaysS from the beginning of each it saw to its alert, seconds
 * @param falseAlerts alerts while nothing was labelled that it sees or is excused for
 * @param soundHours how long that was
 */
public record Score(
    int happenings,
    int missed,
    int late,
    List<Double> delaysS,
    int falseAlerts,
    double soundHours) {
  /** An alert this long after a happening still belongs to it. */
  private static final long TAIL_MS = 600_000;

  /** No happening, no time. */
  public static final Score NOTHING = new Score(0, 0, 0, List.of(), 0, 0);

  /** Scores what a rule raised on one recording. */
  public static Score of(RuleEntry rule, Run run, List<Raise> raises) {
    List<Double> delays = new ArrayList<>();
    int happenings = 0;
    int late = 0;
    List<Label> excusing =
        run.labels().stream()
            .filter(l -> rule.sees().containsKey(l.what()) || rule.excused().contains(l.what()))
            .toList();
    for (Label label : run.labels()) {
      Double promised = rule.sees().get(label.what());
      if (promised != null) {
        happenings++;
        double delayS =
            raises.stream()
                .filter(r -> r.raisedMs() >= label.fromMs() && r.raisedMs() <= label.toMs())
                .mapToDouble(r -> (r.raisedMs() - label.fromMs()) / 1000.0)
                .findFirst()
                .orElse(Double.NaN);
        if (!Double.isNaN(delayS)) {
          delays.add(delayS);
          late += delayS > promised ? 1 : 0;
        }
      }
    }
    int falseAlerts = 0;
    for (Raise r : raises) {
      falseAlerts +=
          excusing.stream()
                  .noneMatch(l -> r.raisedMs() >= l.fromMs() && r.raisedMs() <= l.toMs() + TAIL_MS)
              ? 1
              : 0;
    }
    return new Score(
        happenings, happenings - delays.size(), late, delays, falseAlerts, sound(run, excusing));
  }

  private static double sound(Run run, List<Label> excusing) {
    long sound = 0;
    for (long t = run.fromMs(); t < run.toMs(); t += 60_000) {
      long at = t;
      sound += excusing.stream().noneMatch(l -> at >= l.fromMs() && at <= l.toMs()) ? 1 : 0;
    }
    return sound / 60.0;
  }

  /** Both together. */
  public Score and(Score other) {
    List<Double> all = new ArrayList<>(delaysS);
    all.addAll(other.delaysS);
    return new Score(
        happenings + other.happenings,
        missed + other.missed,
        late + other.late,
        all,
        falseAlerts + other.falseAlerts,
        soundHours + other.soundHours);
  }

  /** Alerts while nothing was labelled, per thirty days of that. */
  public double falsePer30Days() {
    return soundHours == 0 ? 0 : falseAlerts * 720 / soundHours;
  }

  /** Median delay, seconds; NaN when nothing was seen. */
  public double medianDelayS() {
    double[] sorted = delaysS.stream().mapToDouble(d -> d).sorted().toArray();
    return sorted.length == 0 ? Double.NaN : sorted[sorted.length / 2];
  }

  /** Worst delay, seconds; NaN when nothing was seen. */
  public double worstDelayS() {
    return Arrays.stream(delaysS.stream().mapToDouble(d -> d).toArray()).max().orElse(Double.NaN);
  }

  /** For people. */
  public String text() {
    String seen = happenings - missed + " of " + happenings + " seen";
    String delay =
        delaysS.isEmpty()
            ? ""
            : String.format(
                Locale.ROOT, ", median delay %.0f s, worst %.0f s", medianDelayS(), worstDelayS());
    return seen
        + delay
        + (late > 0 ? ", " + late + " later than promised" : "")
        + String.format(Locale.ROOT, ", %d false in %.1f h (%s)", falseAlerts, soundHours, bound());
  }

  /**
   * Alerts per thirty days; of none, the rate that none is still likely at: with 95 % it is less
   * than three in the time looked at (rule of three: Hanley and Lippman-Hand, JAMA 249 (1983) 1743,
   * from memory).
   */
  private String bound() {
    if (falseAlerts > 0) {
      return String.format(Locale.ROOT, "%.1f per 30 days", falsePer30Days());
    }
    return soundHours == 0
        ? "nothing is known of false alerts"
        : String.format(
            Locale.ROOT, "fewer than %.0f per 30 days, 95 %%", Math.ceil(3 * 720 / soundHours));
  }
}
