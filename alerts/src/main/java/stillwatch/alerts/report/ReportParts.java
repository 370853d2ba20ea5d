package stillwatch.alerts.report;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.AlarmBoard;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.desk.JournalCheck;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.series.WellPicture;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.rules.finding.OpenChange;
import stillwatch.rules.plan.Plan;

/**
 * What a report is made of.
 *
 * @param plan the plan in force
 * @param picture the well as its log tells it
 * @param alarms all of them, oldest first
 * @param entries what the record says of people's doing, oldest first
 * @param review the newest reading of the build-up, with its plots
 * @param check whether the journal is whole
 * @param exercise whether a recording fed the watch
 * @param madeMs when, ms since 1970 UTC
 * @param cautions what must stand wherever a person reads results
 * @param stretch the part of the log that it is about
 */
public record ReportParts(
    Plan plan,
    WellPicture picture,
    List<DeskAlarm> alarms,
    List<Entry> entries,
    Optional<JsonNode> review,
    JournalCheck.Result check,
    boolean exercise,
    long madeMs,
    String cautions,
    Stretch stretch) {
  private static final List<String> TOLD =
      List.of(
          "raised",
          "decision",
          "observation",
          "note",
          "correction",
          "handover",
          "handover-accepted",
          "signed",
          "held-back",
          "released");

  private static final ObjectMapper JSON = new ObjectMapper();

  /** What a report made now is made of. */
  public static ReportParts now(
      Plan plan,
      WellPicture picture,
      AlarmBoard board,
      Journal journal,
      Optional<? extends JsonNode> review,
      boolean exercise,
      long madeMs,
      String cautions) {
    List<DeskAlarm> alarms = new ArrayList<>(board.newest(Integer.MAX_VALUE));
    Collections.reverse(alarms);
    List<Entry> entries = new ArrayList<>();
    journal.entries(plan.well(), TOLD, entries::add);
    return new ReportParts(
        plan,
        picture,
        alarms,
        entries,
        review.map(r -> r),
        JournalCheck.of(journal, null),
        exercise,
        madeMs,
        cautions,
        Stretch.ALL);
  }

  /**
   * The part of it that lies in a stretch of the log. What people entered is placed by the time of
   * the log where the entry has it, else by this machine's.
   */
  public ReportParts within(Stretch part) {
    return new ReportParts(
        plan,
        picture,
        alarms.stream().filter(a -> touches(a, part)).toList(),
        entries.stream().filter(e -> part.has(logMs(e))).toList(),
        review,
        check,
        exercise,
        madeMs,
        cautions,
        part);
  }

  private static boolean touches(DeskAlarm a, Stretch part) {
    Long over = a.finding().returnedMs();
    return a.finding().raisedMs() <= part.toMs() && (over == null || over >= part.fromMs());
  }

  private static long logMs(Entry e) {
    JsonNode b = body(e);
    String at =
        b.path("log").asText(b.path("at").asText(b.path("finding").path("raised").asText()));
    Long entered = e.logMs();
    return Words.ms(at).orElse(entered == null ? e.writtenMs() : entered);
  }

  /** When somebody entered that: in an exercise by the log. */
  String entered(Entry e) {
    Long ms = e.logMs();
    return time(ms == null ? e.writtenMs() : ms);
  }

  /** The end of what the report is about, log time. */
  long endMs() {
    return Math.min(stretch.toMs(), picture.logMs());
  }

  /** Like {@code 11:45:02 UTC}, with the date where it is not the day the report ends on. */
  String time(long ms) {
    return Words.time(ms, endMs());
  }

  /** The changes that nothing had explained at the end of what the report is about. */
  List<OpenChange> open() {
    return OpenChange.in(
        alarms.stream()
            .filter(a -> activeAtEnd(a.finding().returnedMs()))
            .map(DeskAlarm::asRaised)
            .toList());
  }

  /** Whether a moment of the log, as ISO 8601, lies after the end of what the report is about. */
  boolean isLater(String at) {
    return Words.ms(at).stream().anyMatch(ms -> ms > endMs());
  }

  /** Whether what returned then, or has not, lasted at the end of what the report is about. */
  boolean activeAtEnd(@Nullable Long returnedMs) {
    return returnedMs == null || returnedMs > endMs();
  }

  List<Decision> decisions() {
    return picture.decisions().stream().filter(d -> stretch.has(d.atMs())).toList();
  }

  /** What the record says of doings of these names. */
  List<Entry> said(String... what) {
    List<String> wanted = List.of(what);
    return entries.stream().filter(e -> wanted.contains(e.what())).toList();
  }

  /** The body of an entry; one that is no JSON as its text. */
  static JsonNode body(Entry e) {
    try {
      JsonNode n = JSON.readTree(e.body());
      return n == null ? JSON.createObjectNode() : n;
    } catch (IOException x) {
      return JSON.createObjectNode().put("text", e.body());
    }
  }
}
