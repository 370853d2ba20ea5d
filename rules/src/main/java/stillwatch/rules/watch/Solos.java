package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.account.Account;
import stillwatch.rules.book.Priority;
import stillwatch.rules.indicator.EvidenceIndicator;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.Near;
import stillwatch.rules.indicator.SoloIndicator;

/**
 * What one gauge of the shut-in pressure sees and the others do not. Silence is no witness: a gauge
 * that keeps its course may be plugged, so until evidence decides the worst that is still credible
 * sets the priority. For the gauge's own fault speak a fall from one reading to the next, readings
 * thrown away before, work on it, and others that have lately shown that they feel the well; for
 * the well speaks another sense at the same time. Not thread-safe.
 */
final class Solos {
  /** Another gauge that lost this share of it sees it too. */
  private static final double SEES_TOO = 0.3;

  /** A fall of this share from one reading to the next is a jump. */
  private static final double JUMP = 0.8;

  /** What is lost at once must be this share of what is lost: noise beside a slow fall is none. */
  private static final double MOST_OF_IT = 0.5;

  /** A decline is told by what it took in so many hours. */
  private static final double DECLINES_H = 1.5;

  /** A gauge that reads as often as this shows how fast it fell, s. */
  private static final double QUICK_S = 10;

  static final long WORK_MS = 15 * 60_000L;

  /** A loss of less than this share of the accuracy, or an hour of it, is worth no thought. */
  private static final double WORTH = 0.1;

  private static final Judgement NOTHING =
      new Judgement(Priority.LOW, List.of(), List.of(), List.of());

  private static final long STEP_REMEMBERED_MS = 60 * 60_000L;

  private static final double STEP_GROWS = 1.25;

  /** Who showed so shortly before that it feels the well was not plugged then. */
  private static final long JUST_BEFORE_MS = 10 * 60_000L;

  /** A fall of so many accuracies an hour is slow: a failing gauge may drift as fast. */
  private static final double SLOW = 1.5;

  /** A witness of a slow fall must have shown within half a tide that it feels the well. */
  private static final long SLOW_PROVEN_MS = 6 * 3_600_000L;

  /** Beyond so many accuracies two gauges of one place differ by no habit of theirs. */
  private static final double BEYOND = 3;

  private Solos() {}

  /** One row for each gauge that has others beside it. */
  static List<SoloIndicator> of(
      Moment moment, List<WatchedGauge> shutIn, Near near, List<EvidenceIndicator> speaking) {
    List<WatchedGauge> able = new ArrayList<>(shutIn.size());
    for (WatchedGauge g : shutIn) {
      if (g.said != null && g.alarms(moment.nowMs())) {
        able.add(g);
      }
    }
    if (able.size() < 2) {
      return List.of();
    }
    List<SoloIndicator> rows = new ArrayList<>(able.size());
    for (WatchedGauge g : able) {
      GaugeIndicator said = g.said;
      if (said != null) {
        rows.add(row(moment, g, said, able, near, speaking));
      }
    }
    return rows;
  }

  private static List<WatchedGauge> others(WatchedGauge g, List<WatchedGauge> able) {
    return able.stream().filter(o -> o != g).toList();
  }

  private static SoloIndicator row(
      Moment moment,
      WatchedGauge g,
      GaugeIndicator said,
      List<WatchedGauge> able,
      Near near,
      List<EvidenceIndicator> speaking) {
    double lost = said.fall().lost();
    double sum = said.shortfall().shortSum();
    double below = said.shortfall().below();
    double decline = said.course().sureDecline();
    for (WatchedGauge o : able) {
      GaugeIndicator other = o.said;
      if (other != null && o != g) {
        lost = other.fall().lost() > SEES_TOO * lost ? 0 : lost;
        sum = other.shortfall().below() > SEES_TOO * below ? 0 : sum;
        below = other.shortfall().below() > SEES_TOO * below ? 0 : below;
        decline = other.course().decline() > SEES_TOO * decline ? 0 : decline;
      }
    }
    double least = WORTH * said.accuracy();
    List<WatchedGauge> others =
        lost > least || below > least || decline > least ? others(g, able) : List.of();
    Judgement judgement = others.isEmpty() ? NOTHING : judge(g, said, others, speaking);
    g.judged = judgement;
    return new SoloIndicator(
        moment.well(),
        g.plan.id(),
        moment.nowMs(),
        said.atMs(),
        lost,
        said.fall().heldToMs(),
        said.fall().quick(),
        said.fall().usual(),
        said.fall().spanS(),
        sum,
        said.shortfall().usualPeak(),
        said.shortfall().usualSwing(),
        said.shortfall().shortSinceMs(),
        below,
        decline,
        said.level(),
        said.accuracy(),
        Math.max(near.allowed(), near.swell()),
        near.reopening(),
        able.size() - 1,
        judgement.priority().wire(),
        others.isEmpty() ? "" : seen(others),
        others.isEmpty() ? "" : judgement.sentence());
  }

  private static Judgement judge(
      WatchedGauge g,
      GaugeIndicator said,
      List<WatchedGauge> others,
      List<EvidenceIndicator> speaking) {
    List<String> forWell = new ArrayList<>();
    List<String> againstWell = new ArrayList<>();
    List<String> forGauge = new ArrayList<>();
    String sense = otherSense(speaking);
    boolean sudden = said.fall().lost() > BEYOND * said.accuracy();
    boolean slow = !sudden && said.course().decline() < SLOW * said.accuracy();
    List<WatchedGauge> responding = others.stream().filter(o -> witness(o, slow)).toList();
    boolean worked = Math.abs(said.atMs() - g.workedMs) < WORK_MS;
    boolean jumped = jumped(said);
    boolean stepped = stepped(g, said, others, jumped);
    boolean drifts = !sudden && g.drift.known(said, others);
    boolean wild = said.range().wild();
    if (!sense.isEmpty()) {
      forWell.add(sense + " agrees");
    }
    if (worked) {
      forGauge.add("work on the gauge was logged (" + g.work + ")");
    }
    if (jumped || stepped) {
      forGauge.add("the fall came from one reading to the next");
    }
    if (drifts) {
      forGauge.add("it fell as fast while another followed the well");
    }
    if (wild) {
      forGauge.add("wild readings before");
    }
    if (!responding.isEmpty()) {
      againstWell.add(
          Gauges.names(responding)
              + (responding.size() == 1
                  ? " has lately followed the well"
                  : " have lately followed the well"));
    }
    forWell.addAll(
        unproven(others.stream().filter(o -> !responding.contains(o)).toList(), said.atMs()));
    boolean gauge = worked || wild || stepped || drifts;
    Priority priority = priority(said, sense, gauge, jumped, responding.size());
    return new Judgement(priority, forWell, againstWell, forGauge);
  }

  /** Whether it has lately followed the well, so that it is a witness. */
  private static boolean witness(WatchedGauge o, boolean slow) {
    return o.trusted() && (o.responds(OddOne.PROVEN_MS) || (slow && o.proven(SLOW_PROVEN_MS)));
  }

  /**
   * Whether the gauge fell from one reading to the next faster than fluid can move, or while
   * another had shown just before that it feels the well, and has lost little more since: its own
   * step, which may stay for ever.
   */
  private static boolean stepped(
      WatchedGauge g, GaugeIndicator said, List<WatchedGauge> others, boolean jumped) {
    double lost = Math.max(said.fall().lost(), said.shortfall().below());
    long from = said.fall().heldToMs() - JUST_BEFORE_MS;
    if (said.fall().impossible(said.periodS())
        || (jumped && others.stream().anyMatch(o -> o.provenMs() >= from))) {
      g.steppedMs = said.atMs();
      g.steppedBy = lost;
    }
    return said.atMs() - g.steppedMs < STEP_REMEMBERED_MS && lost <= STEP_GROWS * g.steppedBy;
  }

  /**
   * Whether it fell from one reading to the next, sooner than the next reading of a well that
   * bursts: what a gauge reads a minute later says nothing of how fast it got there.
   */
  private static boolean jumped(GaugeIndicator said) {
    double lost = said.fall().lost();
    double slowly = Math.max(said.shortfall().below(), DECLINES_H * said.course().decline());
    return lost > 0
        && lost >= MOST_OF_IT * slowly
        && said.fall().jumped() >= JUMP * lost
        && (said.periodS() <= QUICK_S || said.fall().impossible(said.periodS()));
  }

  private static List<String> unproven(List<WatchedGauge> silent, long atMs) {
    if (silent.size() >= Words.MOST_NAMES) {
      return List.of(Gauges.names(silent) + " have not lately followed the well");
    }
    return silent.stream()
        .map(
            o ->
                o.plan.id()
                    + (o.provenMs() == Long.MIN_VALUE
                        ? " has never shown a response to the well"
                        : " has shown no response to the well since "
                            + Words.when(o.provenMs(), atMs)))
        .toList();
  }

  private static Priority priority(
      GaugeIndicator said, String sense, boolean gauge, boolean jumped, int responding) {
    if (!sense.isEmpty()) {
      return Priority.HIGH;
    }
    boolean sudden = said.fall().lost() > BEYOND * said.accuracy();
    if (gauge || responding >= 2 || (jumped && (responding >= 1 || said.periodS() <= 2))) {
      return Priority.LOW;
    }
    return responding == 0 || sudden ? Priority.HIGH : Priority.LOW;
  }

  private static String otherSense(List<EvidenceIndicator> speaking) {
    for (EvidenceIndicator e : speaking) {
      if (!e.sense().equals(Account.PRESSURE)) {
        return e.sense();
      }
    }
    return "";
  }

  private static String seen(List<WatchedGauge> others) {
    return Gauges.names(others) + (others.size() == 1 ? " does" : " do") + " not show this";
  }
}
