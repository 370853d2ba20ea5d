package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.account.Change;
import stillwatch.rules.book.Parameter;
import stillwatch.rules.engine.Verdict;
import stillwatch.rules.finding.Evidence;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.Hashes;
import stillwatch.rules.plan.Plan;

/** Writes findings: identity, sentence, limits, evidence. */
final class FindingMaker {
  private final Plan plan;
  private final Words words;
  private final String planRevision;
  private final String bookRevision;
  private final Gauges gauges;

  FindingMaker(Plan plan, String bookRevision, Gauges gauges) {
    this.plan = plan;
    this.bookRevision = bookRevision;
    this.gauges = gauges;
    words = new Words(plan.display());
    planRevision = plan.revision() + " " + plan.fingerprint();
  }

  /**
   * The finding that a rule raises now.
   *
   * @param escalations how often it has become worse since it was first raised: each is a fact of
   *     its own
   */
  Finding raised(RuleGates rule, Verdict verdict, long onsetMs, int escalations, String phase) {
    List<WatchedGauge> stands = standsOn(verdict);
    List<String> ids = stands.stream().map(g -> g.plan.id()).sorted().toList();
    Map<String, Double> numbers = verdict.numbers();
    Map<String, String> limits = new LinkedHashMap<>();
    for (Parameter p : rule.entry.parameters()) {
      limits.put(
          p.name(),
          words.limit(rule.parameters.getOrDefault(p.name(), p.standard()), p.dimension()));
    }
    List<Evidence.Trail> trails = new ArrayList<>();
    for (WatchedGauge g : stands) {
      trails.add(g.trail(onsetMs));
    }
    String id =
        Hashes.hex(
            24,
            plan.well(),
            rule.entry.id(),
            rule.revision,
            String.join(",", ids),
            onsetMs + (escalations == 0 ? "" : " " + escalations));
    return new Finding(
        id,
        rule.entry.id(),
        rule.entry.meaning(),
        verdict.subject(),
        null,
        rule.revision,
        rule.entry.title(),
        verdict.priorityOr(rule.entry.priority()),
        plan.well(),
        ids,
        onsetMs,
        verdict.nowMs(),
        null,
        sentence(rule.entry.sentence(), verdict, onsetMs, null),
        limits,
        new Evidence(numbers, trails),
        phase,
        rule.advice,
        planRevision,
        bookRevision);
  }

  /**
   * The same finding, now over.
   *
   * @param change what was lost; null where that is no change of the account
   */
  Finding returned(
      RuleGates rule, Verdict verdict, Finding f, @Nullable Change change, String phase) {
    String sentence = sentence(rule.entry.returned(), verdict, f.onsetMs(), change);
    return f.over(verdict.nowMs(), sentence, phase);
  }

  /** The same finding, now replaced by one that says that it is worse. */
  Finding escalated(Verdict verdict, Finding f, String phase) {
    return f.over(verdict.nowMs(), "Worse, not over: a new alarm replaces this one.", phase);
  }

  /**
   * A sentence with its slots filled.
   *
   * @param change what was lost before; null while it is being raised, or of no change
   */
  private String sentence(String form, Verdict verdict, long onsetMs, @Nullable Change change) {
    Map<String, Double> numbers = verdict.numbers();
    Map<String, String> texts = new TreeMap<>(verdict.texts());
    String onset = Words.when(onsetMs, verdict.nowMs());
    texts.put("subject", verdict.subject().replace("/", " and "));
    texts.put("onset", onset);
    texts.put("at", Words.clock(verdict.nowMs()));
    texts.put("stand", stand(verdict.subject()));
    CourseWords course = new CourseWords(words, numbers);
    texts.put("trend", course.trend());
    texts.put("course", course.course());
    texts.put("recovery", course.recovery(change, onset));
    return words.fill(form, numbers, texts, kindOf(verdict), verdict.nowMs());
  }

  private @Nullable Kind kindOf(Verdict verdict) {
    List<WatchedGauge> of = standsOn(verdict);
    return of.isEmpty() ? null : of.get(0).plan.kind();
  }

  /** On which gauges a judgement about this subject stands, and which were left out, and why. */
  private String stand(String subject) {
    List<String> on = new ArrayList<>();
    List<String> out = new ArrayList<>();
    for (WatchedGauge g : gauges.of(subject)) {
      if (g.trusted()) {
        on.add(g.plan.id());
      } else {
        out.add(g.plan.id() + " (" + why(g) + ")");
      }
    }
    if (on.isEmpty() && out.isEmpty()) {
      return "";
    }
    String text = on.isEmpty() ? "No gauge can be trusted" : "Based on " + Words.names(on);
    text += on.size() == 1 ? " only" : "";
    return text + (out.isEmpty() ? "." : "; left out: " + String.join(", ", out) + ".");
  }

  private static String why(WatchedGauge g) {
    if (g.out) {
      return "taken out of use";
    }
    if (!g.unit.isEmpty()) {
      return "looks like " + g.unit;
    }
    if (g.belowSea) {
      return "below the sea's pressure";
    }
    return g.against.isEmpty() ? "no reading yet" : String.join(", ", g.against);
  }

  private List<WatchedGauge> standsOn(Verdict verdict) {
    String named = verdict.texts().get("gauges");
    if (named != null && !named.isEmpty()) {
      return Arrays.stream(named.split(",")).flatMap(id -> gauges.of(id).stream()).toList();
    }
    List<WatchedGauge> members = gauges.of(verdict.subject());
    List<WatchedGauge> trusted =
        members.size() == 1 ? members : members.stream().filter(WatchedGauge::trusted).toList();
    return trusted.isEmpty() ? members : trusted;
  }
}
