package stillwatch.alerts.report;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import stillwatch.alerts.desk.AlarmBoard;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.desk.JournalCheck;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.series.WellPicture;
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
    String cautions) {
  private static final List<String> TOLD =
      List.of("raised", "decision", "observation", "note", "handover", "held-back", "released");

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
        cautions);
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
