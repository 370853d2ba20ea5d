package stillwatch.rules.finding;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.book.Priority;

/**
 * What a rule found. The same finding is said once when raised and once more, with {@code
 * returnedMs}, when its condition is over.
 *
 * @param id 24 hex digits, a hash of well, rule, rule revision, gauges and onset: the same fact
 *     always has the same id
 * @param rule the rule's id
 * @param ruleRevision 8 hex digits of the rule's text and limits
 * @param title the rule's title
 * @param priority how urgent
 * @param well the well's id
 * @param gauges the gauges it stands on, sorted
 * @param onsetMs when the condition began, source's clock, ms since 1970 UTC
 * @param raisedMs when the rule could first know, log time, ms since 1970 UTC
 * @param returnedMs when the condition was over, log time; null while it lasts
 * @param summary one plain sentence with numbers and units
 * @param limits the limits in force, each as number and unit
 * @param evidence what it stands on
 * @param phase the phase of the test
 * @param advice what the plan says to do
 * @param planRevision the plan's revision and fingerprint
 * @param bookRevision the rule book's fingerprint
 */
public record Finding(
    String id,
    String rule,
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

  /** The same finding, its condition over. */
  public Finding over(long atMs, String sentence, String nowPhase) {
    return new Finding(
        id,
        rule,
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
