package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.account.Account;
import stillwatch.rules.account.Change;
import stillwatch.rules.account.Witness;
import stillwatch.rules.finding.Hypothesis;
import stillwatch.rules.finding.Hypothesis.Cause;
import stillwatch.rules.indicator.EvidenceIndicator;

/** What speaks for and against each of the four hypotheses of a change. */
final class ForAndAgainst {
  private ForAndAgainst() {}

  static List<Hypothesis> of(
      Change c,
      Gauges gauges,
      Effects effects,
      List<EvidenceIndicator> speaking,
      @Nullable Judgement alone,
      long nowMs) {
    List<String> felt = names(c, true);
    List<String> not = names(c, false);
    List<String> wellPro = new ArrayList<>(List.of("seen by " + Words.names(felt)));
    List<String> wellCon = new ArrayList<>();
    List<String> gaugePro = new ArrayList<>();
    List<String> gaugeCon = new ArrayList<>();
    for (EvidenceIndicator e : speaking) {
      if (!e.sense().equals(Account.PRESSURE)) {
        wellPro.add(e.sense() + " since " + Words.when(e.sinceMs(), nowMs));
        gaugeCon.add(e.sense() + " speaks for the well");
      }
    }
    if (felt.size() >= 2) {
      gaugeCon.add(felt.size() + " gauges show it");
    } else if (!not.isEmpty()) {
      gaugePro.add("not seen by " + Words.names(not));
      if (alone != null) {
        wellPro.addAll(alone.forWell());
        wellCon.addAll(alone.againstWell());
        gaugePro.addAll(alone.forGauge());
      }
    }
    String near = c.nearby();
    List<String> operationPro =
        near.isEmpty() ? List.of() : List.of("logged near that time: " + near);
    List<String> operationCon =
        near.isEmpty()
            ? List.of("no operation is logged near that time")
            : List.of("the loss is more, or of other sign, than that can do");
    WatchedGauge sea = gauges.ambient(nowMs);
    boolean seaMoves = sea != null && Math.abs(sea.track.fall().lost()) > 2 * sea.plan.accuracy();
    return List.of(
        new Hypothesis(Cause.WELL, wellPro, wellCon),
        new Hypothesis(Cause.GAUGE, gaugePro, gaugeCon),
        new Hypothesis(Cause.OPERATION, operationPro, operationCon),
        new Hypothesis(
            Cause.SURROUNDINGS,
            seaMoves ? List.of("the ambient pressure moved too") : List.of(),
            seaMoves || sea == null ? List.of() : List.of("the ambient pressure did not move so")));
  }

  static List<String> names(Change c, boolean felt) {
    return c.witnesses().stream()
        .filter(w -> w.felt() == felt && (felt || w.alarms()))
        .map(Witness::gauge)
        .toList();
  }

  /** Who sees it, and who does not and since when that one has not answered. */
  static String seen(Change c, long nowMs) {
    List<String> not = new ArrayList<>();
    for (Witness w : c.witnesses()) {
      if (!w.felt() && w.alarms()) {
        not.add(
            w.gauge()
                + (w.provenMs() == 0
                    ? ", which has never shown a response to the well"
                    : ", which last showed a response to the well at "
                        + Words.when(w.provenMs(), nowMs)));
      }
    }
    List<String> felt = names(c, true);
    return "Seen by "
        + Words.names(felt)
        + (felt.size() == 1 && !not.isEmpty() ? " only" : "")
        + (not.isEmpty() ? "" : "; not by ")
        + (not.size() < Words.MOST_NAMES
            ? String.join("; nor by ", not)
            : Words.names(names(c, false)))
        + ".";
  }

  /** What speaks for each explanation, and what against the well, in a sentence or two. */
  static String words(Change c) {
    List<String> clauses = new ArrayList<>();
    boolean other = false;
    for (Hypothesis h : c.hypotheses()) {
      boolean well = h.cause() == Cause.WELL;
      List<String> pro = h.pro().subList(well ? 1 : 0, h.pro().size()); // who sees it is said apart
      if (!pro.isEmpty()) {
        clauses.add("for " + word(h.cause()) + ": " + String.join(", ", pro));
        other |= !well;
      }
      if (well && !h.con().isEmpty()) {
        clauses.add("against the well: " + String.join(", ", h.con()));
      }
    }
    if (c.hypotheses().isEmpty()) {
      return "";
    }
    String text = clauses.isEmpty() ? "" : String.join("; ", clauses) + ".";
    return (text.isEmpty() ? "" : Character.toUpperCase(text.charAt(0)) + text.substring(1))
        + (other ? "" : (text.isEmpty() ? "" : " ") + "Nothing speaks for another cause.");
  }

  private static String word(Cause cause) {
    return switch (cause) {
      case WELL -> "the well";
      case GAUGE -> "the gauge";
      case OPERATION -> "an operation";
      case SURROUNDINGS -> "the surroundings";
    };
  }
}
