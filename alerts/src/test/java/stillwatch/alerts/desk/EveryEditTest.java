package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;
import static stillwatch.alerts.desk.Findings.at;
import static stillwatch.alerts.desk.Findings.message;
import static stillwatch.alerts.desk.Findings.raised;
import static stillwatch.alerts.desk.Findings.returned;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import stillwatch.alerts.HandSetClock;
import stillwatch.alerts.desk.Edits.Row;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Inbox;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.people.People;
import stillwatch.alerts.people.Role;
import stillwatch.alerts.route.Outbox;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.DeskPlan;

/**
 * A journal that was written to behind the watch's back: every table and every column that the
 * database itself names, each in every way there is to edit it. A table added later is edited too,
 * and fails here when the record does not vouch for it or nothing here fills it.
 */
class EveryEditTest {
  private static final int ROWS_EDITED = 3;

  @TempDir Path folder;

  /** Something in every table, twice. */
  private static void live(Journal journal) {
    HandSetClock clock = HandSetClock.ticking("2026-03-08T12:00:00Z");
    journal.exercise(clock::millis);
    Outbox outbox = new Outbox("larkspur-2", journal, List.of(new Nowhere()));
    Desk desk = new Desk("larkspur-2", DeskPlan.USUAL, journal, outbox, clock);
    desk.take(
        Topics.ALERTS,
        List.of(
            message(0, raised("a", Priority.HIGH)),
            message(1, raised("b", Priority.LOW)),
            message(2, returned("b", Priority.LOW)),
            message(3, at("gauge-noisy", "PT-1", Priority.LOW, 1000))));
    Boolean unused =
        journal.write(
            clock.millis(),
            record -> {
              Inbox.takenIn(record, "larkspur-2", Topics.ALERTS, 1, 7);
              return true;
            });
    desk.acknowledge("a", "Ada", "seen, the camera is on its way");
    desk.shelve("a", Duration.ofHours(1), "Ada", "a vessel pumps");
    desk.remove("gauge-noisyPT-11000", "Ada", "it is exchanged");
    desk.note("a", "Bob", "the camera sees nothing");
    People people = new People(journal, clock);
    people.enter(people.invite(Role.ADMINISTER, ""), "Ada", "correct horse 12");
    people.enter(people.invite(Role.OPERATE, "Ada"), "Bob", "correct horse 13");
    assertThat(people.machine("winch", Role.OPERATE, "Ada")).isNotEmpty();
    assertThat(people.invite(Role.LOOK, "Ada")).isNotEmpty();
    assertThat(people.first("Ada 12345678")).isTrue();
    assertThat(people.first("Ada 87654321")).isTrue();
  }

  @ParameterizedTest
  @EnumSource
  void everyEditOfEveryTableIsFoundAndNamed(Databases database) {
    try (Journal journal = database.open(folder)) {
      live(journal);
      Map<String, Edits> tables = new TreeMap<>();
      Boolean unused =
          journal.transaction(
              c -> {
                Edits.free(c);
                for (Edits table : Edits.all(c)) {
                  tables.put(table.name().toLowerCase(Locale.ROOT), table);
                }
                return true;
              });
      assertThat(JournalCheck.of(journal, null).fault()).as("before any edit").isNull();
      assertThat(tables)
          .containsKeys(
              "alarm", "entry", "head", "hold", "outbox", "person", "token", "well_inbox");
      int edits = 0;
      for (Map.Entry<String, Edits> table : tables.entrySet()) {
        edits += edited(journal, table.getKey(), table.getValue());
      }
      assertThat(edits).isGreaterThan(200);
      assertThat(JournalCheck.of(journal, null).fault()).as("after every edit").isNull();
    }
  }

  private static int edited(Journal journal, String name, Edits table) {
    List<Row> rows = journal.transaction(table::rows);
    boolean one = name.equals("head");
    assertThat(rows)
        .as("rows of %s: have the watch write some", name)
        .hasSizeBetween(one ? 1 : 2, one ? 1 : 100);
    int edits = 0;
    for (Row row : rows.subList(0, Math.min(ROWS_EDITED, rows.size()))) {
      for (String column : row.values().keySet()) {
        for (Object value : row.changed(column)) {
          found(journal, name, "set " + column, c -> table.set(c, row, column, value));
          edits++;
        }
      }
      found(journal, name, "delete", c -> table.delete(c, row));
      found(journal, name, "add", c -> table.insert(c, row.copied(table.key())));
      edits += 2;
    }
    if (!one) {
      List<Row> pair = table.unlike(rows);
      found(journal, name, "swap", c -> table.swap(c, pair.get(0), pair.get(1)));
      found(
          journal,
          name,
          "cut the second half",
          c -> {
            for (Row row : rows.subList(rows.size() / 2, rows.size())) {
              table.delete(c, row);
            }
          });
      found(journal, name, "cut the last", c -> table.delete(c, rows.get(rows.size() - 1)));
      edits += 3;
    }
    return edits;
  }

  private interface Edit {
    void in(Connection c) throws SQLException;
  }

  /** The edit is made and looked at in one transaction, which is then taken back. */
  private static void found(Journal journal, String table, String what, Edit edit) {
    String fault =
        journal.transaction(
            c -> {
              edit.in(c);
              String found = String.valueOf(JournalCheck.of(c, null).fault());
              c.rollback();
              return found;
            });
    List<String> names = new ArrayList<>(List.of("table " + table));
    if (table.equals("entry")) {
      names.add("entry ");
    }
    assertThat(names).as("%s, %s: %s", table, what, fault).anyMatch(fault::contains);
  }
}
