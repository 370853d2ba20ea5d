package stillwatch.alerts.desk;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.journal.Journal;

/**
 * Proves a journal whole: every entry follows the one before by its hash, the last one is the one
 * the journal says is last, and alarms, what is held back and what goes out are what the entries
 * make of them. Not thread-safe.
 *
 * <p>What it cannot find: that somebody who may write to the database made a whole new chain. A
 * hash that left the machine before, in a report or a message, shows that; give it as expected.
 */
public final class JournalCheck {
  private final @Nullable String expected;
  private final Map<String, DeskAlarm> alarms = new LinkedHashMap<>();
  private final Map<String, String> raisedTexts = new LinkedHashMap<>();
  private final Map<String, Map<String, Hold>> holds = new LinkedHashMap<>();
  private final Map<String, Long> delivered = new LinkedHashMap<>();
  private String hash = Entry.NOTHING_BEFORE;
  private long seq;
  private boolean expectedSeen;
  private @Nullable String fault;

  private JournalCheck(@Nullable String expected) {
    this.expected = expected;
    expectedSeen = expected == null;
  }

  /**
   * What was found.
   *
   * @param entries how many entries follow one another from the first on
   * @param hash the last of their hashes
   * @param fault the first thing that is not as it was written; null when everything is
   */
  public record Result(long entries, String hash, @Nullable String fault) {}

  /**
   * Checks a journal.
   *
   * @param expected the beginning of a hash that must be in the chain; null to expect none
   */
  public static Result of(Journal journal, @Nullable String expected) {
    JournalCheck check = new JournalCheck(expected);
    journal.entries(check::take);
    if (check.fault == null) {
      check.end(journal.head());
    }
    if (check.fault == null) {
      String found = journal.transaction(check::tables);
      check.fault = found.isEmpty() ? null : found;
    }
    return new Result(check.seq, check.hash, check.fault);
  }

  private void take(Entry entry) {
    if (fault != null) {
      return;
    }
    if (!entry.follows(hash, seq)) {
      fault =
          "entry "
              + entry.seq()
              + " ('"
              + entry.what()
              + "' of "
              + (entry.subject().isEmpty() ? "the watch" : entry.subject())
              + ") is not what was written, or an entry before it is missing";
      return;
    }
    seq = entry.seq();
    hash = entry.hash();
    expectedSeen |= expected != null && hash.startsWith(expected);
    try {
      fold(entry);
    } catch (IllegalArgumentException e) {
      fault = "entry " + seq + " cannot be read: " + e.getMessage();
    }
  }

  private void fold(Entry entry) {
    String id = entry.subject();
    switch (entry.what()) {
      case DeskAlarm.RAISED -> {
        DeskAlarm alarm = DeskAlarm.raised(entry);
        alarms.put(id, alarm);
        raisedTexts.put(id, DeskAlarm.text(alarm.finding()));
      }
      case HoldEntries.HELD ->
          holds
              .computeIfAbsent(entry.well(), w -> new LinkedHashMap<>())
              .put(id, HoldEntries.hold(entry));
      case HoldEntries.RELEASED ->
          holds.computeIfAbsent(entry.well(), w -> new LinkedHashMap<>()).remove(id);
      case "delivered" ->
          delivered.put(
              entry.by() + " " + id + " " + entry.body().replaceFirst(",.*", ""),
              entry.writtenMs());
      default -> alarms.computeIfPresent(id, (k, alarm) -> alarm.after(entry));
    }
  }

  private void end(Journal.Head head) {
    if (head.seq() != seq || !head.hash().equals(hash)) {
      fault =
          "the record ends with entry "
              + seq
              + ", but the journal knows of "
              + head.seq()
              + ": its end is missing or was changed";
    } else if (!expectedSeen) {
      fault = "no entry has the hash " + expected + ": this is not the record it was taken from";
    }
  }

  private String tables(Connection c) throws SQLException {
    Map<String, DeskAlarm> rows = new LinkedHashMap<>();
    for (DeskAlarm row : AlarmTable.all(c)) {
      rows.put(row.finding().id(), row);
    }
    for (Map.Entry<String, DeskAlarm> e : alarms.entrySet()) {
      if (!e.getValue().equals(rows.get(e.getKey()))) {
        return "alarm " + e.getKey() + " does not stand as its entries say";
      }
    }
    if (rows.size() != alarms.size()) {
      return "there are " + rows.size() + " alarms, but entries of " + alarms.size();
    }
    String fault = columns(c);
    fault = fault.isEmpty() ? held(c) : fault;
    return fault.isEmpty() ? outbox(c) : fault;
  }

  /** The finding's own bytes, and the columns that repeat for searching what it says. */
  private String columns(Connection c) throws SQLException {
    try (PreparedStatement s =
            c.prepareStatement(
                "select id, well, point, rule, priority, raised_ms, finding, asks from alarm");
        ResultSet r = s.executeQuery()) {
      while (r.next()) {
        DeskAlarm a = alarms.get(r.getString(1));
        if (a == null
            || !a.finding().well().equals(r.getString(2))
            || !a.point().equals(r.getString(3))
            || !a.finding().rule().equals(r.getString(4))
            || a.finding().priority().ordinal() != r.getInt(5)
            || a.finding().raisedMs() != r.getLong(6)
            || !DeskAlarm.text(a.finding()).equals(r.getString(7))
            || a.state().asks() != r.getBoolean(8)) {
          return "alarm " + r.getString(1) + " does not stand as its entries say";
        }
      }
    }
    return "";
  }

  private String held(Connection c) throws SQLException {
    long count = 0;
    for (Map.Entry<String, Map<String, Hold>> of : holds.entrySet()) {
      Map<String, Hold> rows = new LinkedHashMap<>();
      HoldTable.all(c, of.getKey()).forEach(h -> rows.put(h.point(), h));
      count += rows.size();
      if (!rows.equals(of.getValue())) {
        return "what is held back on " + of.getKey() + " is not what the entries say";
      }
    }
    try (PreparedStatement s = c.prepareStatement("select count(*) from hold");
        ResultSet r = s.executeQuery()) {
      return r.next() && r.getLong(1) == count ? "" : "more is held back than the entries say";
    }
  }

  private String outbox(Connection c) throws SQLException {
    try (PreparedStatement s =
            c.prepareStatement(
                "select route, alarm, event, finding, priority, delivered_ms from outbox order by seq");
        ResultSet r = s.executeQuery()) {
      while (r.next()) {
        DeskAlarm alarm = alarms.get(r.getString(2));
        String event = r.getString(3);
        long at = r.getLong(6);
        Long deliveredMs = r.wasNull() ? null : Long.valueOf(at);
        String text =
            alarm == null
                ? ""
                : event.startsWith("raised")
                    ? String.valueOf(raisedTexts.get(r.getString(2)))
                    : DeskAlarm.text(alarm.finding());
        String key = r.getString(1) + " " + r.getString(2) + " " + event;
        if (!text.equals(r.getString(4))
            || alarm == null
            || alarm.finding().priority().ordinal() != r.getInt(5)
            || !Objects.equals(deliveredMs, delivered.get(key))) {
          return "what went or goes out by route "
              + r.getString(1)
              + " of alarm "
              + r.getString(2)
              + " is not what the entries say";
        }
      }
    }
    return "";
  }
}
