package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;
import static stillwatch.alerts.desk.Findings.message;
import static stillwatch.alerts.desk.Findings.raised;
import static stillwatch.alerts.desk.Findings.returned;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Clock;
import java.time.Duration;
import java.util.HexFormat;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import stillwatch.alerts.HandSetClock;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.route.Outbox;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.DeskPlan;

/** A journal is whole whatever the watch did to it, and wherever it was copied to. */
class JournalCheckTest {
  private static final String POINT = "sudden-drop PT-1,PT-2";

  @TempDir Path folder;

  private static Desk desk(Journal journal, Clock clock) {
    Outbox outbox = new Outbox("larkspur-2", journal, List.of(new Nowhere()));
    return new Desk("larkspur-2", DeskPlan.USUAL, journal, outbox, clock);
  }

  private static void live(Journal journal) {
    Desk desk = desk(journal, HandSetClock.ticking("2026-03-08T12:00:00Z"));
    desk.take(
        Topics.ALERTS,
        List.of(
            message(0, raised("a", Priority.HIGH)),
            message(1, raised("b", Priority.LOW)),
            message(2, returned("b", Priority.LOW))));
    desk.acknowledge("a", "Ada", "seen, the camera is on its way");
    desk.shelve("a", Duration.ofHours(1), "Ada", "a vessel pumps");
    desk.note("a", "Bob", "the camera sees nothing");
  }

  @ParameterizedTest
  @EnumSource
  void anUntouchedJournalIsWhole(Databases database) {
    try (Journal journal = database.open(folder)) {
      live(journal);
      JournalCheck.Result whole = JournalCheck.of(journal, null);
      assertThat(whole.fault()).isNull();
      assertThat(whole.entries()).isEqualTo(journal.head().seq()).isGreaterThan(6);
      assertThat(JournalCheck.of(journal, whole.hash().substring(0, 16)).fault()).isNull();
      assertThat(JournalCheck.of(journal, "feedbeef").fault()).contains("feedbeef");
    }
  }

  /** Whatever takes more than one reading of the clock for one thing shows with this clock. */
  @ParameterizedTest
  @EnumSource
  void whateverTheDeskDoesTheRecordIsWholeAlsoAfterARestart(Databases database) {
    HandSetClock clock = HandSetClock.ticking("2026-03-08T12:00:00Z");
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal, clock);
      desk.take(Topics.ALERTS, List.of(message(0, raised("a", Priority.HIGH))));
      whole(journal, "raised");
      desk.shelve("a", Duration.ofHours(1), "Ada", "a vessel pumps");
      whole(journal, "shelved");
      desk.restore(POINT, "Ada");
      whole(journal, "no longer shelved");
      desk.shelve("a", Duration.ofHours(1), "Ada", "once more");
    }
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal, clock);
      whole(journal, "opened again while shelved");
      clock.forward(Duration.ofHours(1));
      desk.look("watching");
      assertThat(desk.holds()).isEmpty();
      whole(journal, "no longer shelved by time");
      desk.remove("a", "Root", "the hydrophone is exchanged");
      whole(journal, "out of service");
    }
    try (Journal journal = database.open(folder)) {
      Desk desk = desk(journal, clock);
      desk.take(Topics.ALERTS, List.of(message(1, raised("c", Priority.HIGH))));
      desk.restore(POINT, "Root");
      desk.acknowledge("a", "Ada", "seen");
      whole(journal, "in service again");
    }
  }

  private static void whole(Journal journal, String after) {
    assertThat(JournalCheck.of(journal, null).fault()).as(after).isNull();
  }

  /** The chain by hand, with another reading of the rule: SHA-256 (FIPS 180-4) of the fields. */
  @Test
  void theHashIsThatOfTheFieldsEachWithItsLengthBefore() throws NoSuchAlgorithmException {
    try (Journal journal = Databases.FILE.open(folder)) {
      Journal.Head before = journal.head();
      Entry entry = journal.write(5, r -> r.enter("w", "note", "", "Ada", "°"));
      MessageDigest sha = MessageDigest.getInstance("SHA-256");
      String fields =
          "\0\0\0@"
              + before.hash()
              + "\0\0\0\1"
              + "2"
              + "\0\0\0\1"
              + "5"
              + "\0\0\0\1w"
              + "\0\0\0\4note"
              + "\0\0\0\0"
              + "\0\0\0\3Ada"
              + "\0\0\0\2°";
      assertThat(entry.hash())
          .isEqualTo(HexFormat.of().formatHex(sha.digest(fields.getBytes(StandardCharsets.UTF_8))));
    }
  }

  /** As docs/room.md describes it for the file. */
  @Test
  void aCopyOfTheFilePutBackIsTheSameWholeRecord() throws IOException {
    Path elsewhere = Files.createDirectory(folder.resolve("restored"));
    String hash;
    try (Journal journal = Databases.FILE.open(folder)) {
      live(journal);
      hash = journal.head().hash();
    }
    Files.copy(folder.resolve("journal.mv.db"), elsewhere.resolve("journal.mv.db"));
    try (Journal restored = Databases.FILE.open(elsewhere)) {
      JournalCheck.Result result = JournalCheck.of(restored, hash);
      assertThat(result.fault()).isNull();
      assertThat(result.hash()).isEqualTo(hash);
    }
  }

  /** What the record itself cannot show, and what does. */
  @ParameterizedTest
  @EnumSource
  void aTailCutWithItsHeadShowsInTheTablesOrByAHashThatWasSent(Databases database) {
    try (Journal journal = database.open(folder)) {
      live(journal);
      desk(journal, HandSetClock.ticking("2026-03-08T13:00:00Z")).note("", "Ada", "the last word");
      Journal.Head sent = journal.head();
      assertThat(cut(journal, 1).fault()).as("a note is in no table").isNull();
      assertThat(cutExpecting(journal, 1, sent.hash()).fault()).contains(sent.hash());
      assertThat(cut(journal, 3).fault()).as("what the cut entries wrote").contains("table ");
    }
  }

  private static JournalCheck.Result cut(Journal journal, int entries) {
    return cutExpecting(journal, entries, "");
  }

  /** The newest entries are deleted and the head set back, looked at, and all of it taken back. */
  private static JournalCheck.Result cutExpecting(Journal journal, int entries, String expected) {
    long last = journal.head().seq() - entries;
    return journal.transaction(
        c -> {
          try (var s = c.createStatement()) {
            s.execute("delete from entry where seq > " + last);
            s.execute(
                "update head set seq = "
                    + last
                    + ", hash = (select hash from entry where seq = "
                    + last
                    + ")");
          }
          JournalCheck.Result result = JournalCheck.of(c, expected);
          c.rollback();
          return result;
        });
  }

  private static void tool(String... line) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(line).redirectErrorStream(true).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertThat(process.waitFor()).as(String.join(" ", line) + ": " + said).isZero();
  }

  /** As docs/room.md describes it for PostgreSQL. */
  @Test
  void aDumpOfPostgresqlPutBackIsTheSameWholeRecord() throws Exception {
    assumeTrue(Files.isExecutable(Path.of("/usr/bin/pg_dump")), "pg_dump is not installed");
    String hash;
    try (Journal journal = Databases.POSTGRESQL.open(folder)) {
      live(journal);
      hash = journal.head().hash();
    }
    String dump = folder.resolve("journal.dump").toString();
    tool("/usr/bin/pg_dump", "-Fc", "-f", dump, "-d", Databases.connection(folder));
    Path elsewhere = folder.resolve("restored");
    Databases.create(elsewhere);
    tool("/usr/bin/pg_restore", "-d", Databases.connection(elsewhere), dump);
    try (Journal restored = Databases.POSTGRESQL.open(elsewhere)) {
      JournalCheck.Result result = JournalCheck.of(restored, hash);
      assertThat(result.fault()).isNull();
      assertThat(result.hash()).isEqualTo(hash);
    }
  }
}
