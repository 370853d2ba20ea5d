package stillwatch.rules.finding;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.book.RuleMeaning;

/**
 * What a rule found. The same finding is said once when raised and once more, with {@code
 * returnedMs}, when its condition is over.
 *
 * @param id 24 hex digits, a hash of well, rule, rule revision, gauges and onset: the same fact
 *     always has the same id
 * @param rule the rule's id
 * @param meaning what the rule's alarms mean for everybody else, as the catalogue says it
 * @param subject whom the rule judged: a gauge, a pair "A/B", a group of twins, a way of looking or
 *     the well
 * @param change id of the change on the account of the well that it speaks of; null when of none
 * @param ruleRevision 8 hex digits of the rule's text and limits
 * @param title the rule's title
 * @param priority how urgent
 * @param well the well's id
 * @param gauges the gauges it is based on, sorted
 * @param onsetMs when the condition began, source's clock, ms since 1970 UTC
 * @param raisedMs when the rule could first know, log time, ms since 1970 UTC
 * @param returnedMs when the condition was over, log time; null while it lasts
 * @param summary one plain sentence with numbers and units
 * @param limits the limits in force, each as number and unit
 * @param evidence what it is based on
 * @param phase the phase of the test
 * @param advice what the plan says to do
 * @param planRevision the plan's revision and fingerprint
 * @param bookRevision the rule book's fingerprint
 */
public record Finding(
    String id,
    String rule,
    RuleMeaning meaning,
    String subject,
    @Nullable String change,
    String ruleRevision,
    String title,
    Priority priority,
    String well,
    List<String> gauges,
    long onsetMs,
    long raisedMs,
    @Nullable Long returnedMs,
    String summary,
    Map<String, String> limits,
    Evidence evidence,
    String phase,
    String advice,
    String planRevision,
    String bookRevision) {

  /** Whether this says that the condition is over. */
  public boolean returned() {
    return returnedMs != null;
  }

  /** Whether it was raised by that moment and its condition was not over, log time. */
  public boolean lastedAt(long ms) {
    return raisedMs <= ms && (returnedMs == null || returnedMs > ms);
  }

  /** What the rule is about. */
  public RuleEntry.About about() {
    return meaning.about();
  }

  /** Whether it speaks of a gauge or of two that should agree. */
  public boolean ofGauges() {
    return about() == RuleEntry.About.GAUGE || about() == RuleEntry.About.PAIR;
  }

  /** Whether, while it stands, this gauge is left out of what reassures. */
  public boolean excludes(String gauge) {
    return meaning.excludes() && gauges.contains(gauge);
  }

  /** Ids of the rules whose less urgent findings it explains while it stands. */
  public List<String> explains() {
    return meaning.explains();
  }

  /**
   * The same finding, speaking of a change of the account.
   *
   * @param changeId the change's id; null when it speaks of none
   * @param weighed what speaks for and against each explanation of it
   */
  public Finding of(@Nullable String changeId, List<Hypothesis> weighed) {
    return new Finding(
        id,
        rule,
        meaning,
        subject,
        changeId,
        ruleRevision,
        title,
        priority,
        well,
        gauges,
        onsetMs,
        raisedMs,
        returnedMs,
        summary,
        limits,
        evidence.with(weighed),
        phase,
        advice,
        planRevision,
        bookRevision);
  }

  /** The same finding, its condition over. */
  public Finding over(long atMs, String sentence, String nowPhase) {
    return new Finding(
        id,
        rule,
        meaning,
        subject,
        change,
        ruleRevision,
        title,
        priority,
        well,
        gauges,
        onsetMs,
        raisedMs,
        atMs,
        sentence,
        limits,
        evidence,
        nowPhase,
        advice,
        planRevision,
        bookRevision);
  }
}
