package stillwatch.alerts.desk;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.journal.EntryTable;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.journal.Rows;

/**
 * Proves a journal whole: every entry follows the one before by its hash, the last one is the one
 * the journal says is last, every row of every other table is as the entries vouch for it, and how
 * alarms stand and what is suppressed is what the entries make of them. It reads all of it as it
 * was at one instant, so that a watch may go on meanwhile. Not thread-safe.
 *
 * <p>What it cannot find: that somebody who may write to the database cut the chain or made a whole
 * new one, and brought every table in line with it. A hash that left the machine before, in a
 * report, a digest or a message, shows that; give it as expected.
 */
public final class JournalCheck {
  private final @Nullable String expected;
  private final Rows rows = new Rows();
  private final Map<String, DeskAlarm> alarms = new LinkedHashMap<>();
  private final Map<String, Map<String, Hold>> holds = new LinkedHashMap<>();
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
    return journal.snapshot(c -> of(c, expected));
  }

  /** Checks a journal as a transaction sees it. */
  static Result of(Connection c, @Nullable String expected) throws SQLException {
    JournalCheck check = new JournalCheck(expected);
    EntryTable.all(c, check::take);
    if (check.fault == null) {
      check.end(EntryTable.head(c));
    }
    if (check.fault == null) {
      String found = check.rows.fault(c);
      check.fault = found.isEmpty() ? check.standing(c) : found;
    }
    return new Result(check.seq, check.hash, check.fault);
  }

  private void take(Entry entry) {
    if (fault != null) {
      return;
    }
    if (!entry.follows(hash, seq)) {
      fault = notFollowing(entry);
      return;
    }
    seq = entry.seq();
    hash = entry.hash();
    expectedSeen |= expected != null && hash.startsWith(expected);
    try {
      rows.take(entry);
      fold(entry);
    } catch (IllegalArgumentException e) {
      fault = "entry " + seq + " cannot be read: " + e.getMessage();
    }
  }

  private static String notFollowing(Entry entry) {
    String subject = entry.subject().isEmpty() ? "the watch" : entry.subject();
    return "entry %s ('%s' of %s) is not what was written, or an entry before it is missing"
        .formatted(entry.seq(), entry.what(), subject);
  }

  private void fold(Entry entry) {
    String id = entry.subject();
    switch (entry.what()) {
      case DeskAlarm.RAISED -> alarms.put(id, DeskAlarm.raised(entry));
      case HoldEntries.HELD -> heldOf(entry.well()).put(id, HoldEntries.hold(entry));
      case HoldEntries.RELEASED -> heldOf(entry.well()).remove(id);
      default -> alarms.computeIfPresent(id, (k, alarm) -> alarm.after(entry));
    }
  }

  private Map<String, Hold> heldOf(String well) {
    return holds.computeIfAbsent(well, w -> new LinkedHashMap<>());
  }

  private void end(Journal.Head head) {
    if (head.seq() < 0) {
      fault = "the row of table head that says where the record ends is missing or not alone";
    } else if (head.seq() != seq || !head.hash().equals(hash)) {
      fault =
          "the record ends with entry "
              + seq
              + ", but table head says "
              + head.seq()
              + ": its end is missing or was changed";
    } else if (!expectedSeen) {
      fault = "no entry has the hash " + expected + ": this is not the record it was taken from";
    }
  }

  /** Whether alarms and holds stand as their entries make them. */
  private @Nullable String standing(Connection c) throws SQLException {
    List<DeskAlarm> standing = AlarmTable.all(c);
    for (DeskAlarm alarm : standing) {
      if (!alarm.equals(alarms.get(alarm.finding().id()))) {
        return "alarm " + alarm.finding().id() + " does not stand as its entries say";
      }
    }
    if (standing.size() != alarms.size()) {
      return "there are " + standing.size() + " alarms, but entries of " + alarms.size();
    }
    return heldBack(c);
  }

  private @Nullable String heldBack(Connection c) throws SQLException {
    for (Map.Entry<String, Map<String, Hold>> of : holds.entrySet()) {
      Map<String, Hold> held = new LinkedHashMap<>();
      HoldTable.all(c, of.getKey()).forEach(h -> held.put(h.point(), h));
      if (!held.equals(of.getValue())) {
        return "what is suppressed on " + of.getKey() + " is not what the entries say";
      }
    }
    return null;
  }
}
