package stillwatch.alerts.desk;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Collection;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.journal.Entry;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.finding.OpenChange;

/**
 * An alarm as the desk holds it: what the record's entries about it make of it.
 *
 * @param finding the newest word of the rules on it; when its condition is over, {@code
 *     finding.returnedMs()} is set
 * @param raisedSummary the sentence it was raised with
 * @param standing where it stands
 * @param seq the entry it was raised by
 * @param times how often its point was raised, this time counted, since somebody last saw to it
 * @param acknowledgedBy who acknowledged it
 * @param acknowledgedMs when, the desk's clock, ms since 1970 UTC
 * @param note what the person who acknowledged it wrote
 */
public record DeskAlarm(
    Finding finding,
    String raisedSummary,
    AlarmStanding standing,
    long seq,
    int times,
    @Nullable String acknowledgedBy,
    @Nullable Long acknowledgedMs,
    String note) {
  /** What an entry says by which an alarm comes into being. */
  public static final String RAISED = "raised";

  private static final ObjectMapper JSON = new ObjectMapper();

  /** The state of the alarm. */
  public AlarmState state() {
    return standing.state();
  }

  /** What can be suppressed as one: a rule and the gauges it speaks of. */
  public String point() {
    return point(finding);
  }

  static String point(Finding finding) {
    return finding.rule()
        + (finding.gauges().isEmpty() ? "" : " ")
        + String.join(",", finding.gauges());
  }

  /** What an entry says of a finding that was just raised. */
  static String raising(Finding finding, boolean latches, int times) {
    return "{\"latches\":"
        + latches
        + ",\"times\":"
        + times
        + ",\"finding\":"
        + text(finding)
        + "}";
  }

  static String text(Finding finding) {
    return new String(FindingCodec.encode(finding), StandardCharsets.UTF_8);
  }

  static Finding finding(String text) {
    return FindingCodec.decode(text.getBytes(StandardCharsets.UTF_8));
  }

  /**
   * The alarm that an entry brings into being.
   *
   * @throws IllegalArgumentException when it brings none
   */
  static DeskAlarm raised(Entry entry) {
    JsonNode body = body(entry);
    Finding finding = finding(body.path("finding").toString());
    boolean asking = finding.priority() != Priority.INFORMATION;
    return new DeskAlarm(
        finding,
        finding.summary(),
        AlarmStanding.raised(asking, body.path("latches").asBoolean()),
        entry.seq(),
        body.path("times").asInt(1),
        null,
        null,
        "");
  }

  private static JsonNode body(Entry entry) {
    try {
      return JSON.readTree(entry.body());
    } catch (IOException e) {
      throw new IllegalArgumentException("entry " + entry.seq() + " is not readable as JSON", e);
    }
  }

  /** The alarm after an entry about it; itself when the entry says nothing an alarm heeds. */
  DeskAlarm after(Entry entry) {
    AlarmEvent event = AlarmEvent.of(entry.what()).orElse(null);
    if (event == null) {
      return this;
    }
    AlarmStanding next = standing.after(event);
    return switch (event) {
      case ACKNOWLEDGED -> with(finding, next, entry.by(), entry.writtenMs(), entry.body());
      case RE_ALARMED -> with(finding, next, null, null, note);
      case RETURNED -> with(finding(entry.body()), next, acknowledgedBy, acknowledgedMs, note);
      default -> with(finding, next, acknowledgedBy, acknowledgedMs, note);
    };
  }

  private DeskAlarm with(
      Finding last, AlarmStanding next, @Nullable String by, @Nullable Long byMs, String words) {
    return new DeskAlarm(last, raisedSummary, next, seq, times, by, byMs, words);
  }

  /** The finding with the sentence it was raised with. */
  public Finding asRaised() {
    Long over = finding.returnedMs();
    return over == null ? finding : finding.over(over, raisedSummary, finding.phase());
  }

  /** The changes of the well that alarms which last speak of, also those that are suppressed. */
  public static List<OpenChange> openChanges(Collection<DeskAlarm> alarms) {
    return OpenChange.in(
        alarms.stream().filter(a -> a.standing.lasts()).map(DeskAlarm::finding).toList());
  }
}
