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
import java.time.Duration;
import java.util.ArrayList;
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

/** A journal that was written to behind the watch's back. */
class JournalCheckTest {
  @TempDir Path folder;

  private static void live(Journal journal) {
    Desk desk =
        new Desk(
            "larkspur-2",
            DeskPlan.USUAL,
            journal,
            new Outbox(journal, List.of(new Nowhere())),
            new HandSetClock("2026-03-08T12:00:00Z"));
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

  private static String text(Journal journal, String sql) {
    return journal.transaction(
        c -> {
          try (var s = c.createStatement();
              var r = s.executeQuery(sql)) {
            r.next();
            return r.getString(1);
          }
        });
  }

  private static void run(Journal journal, String sql, String... values) {
    int unused =
        journal.transaction(
            c -> {
              try (var s = c.prepareStatement(sql)) {
                for (int i = 0; i < values.length; i++) {
                  s.setString(i + 1, values[i]);
                }
                return s.executeUpdate();
              }
            });
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

  /** One character of every text of every row, changed to its neighbour and back again. */
  @ParameterizedTest
  @EnumSource
  void aSingleChangedByteAnywhereIsFoundAndNamed(Databases database) {
    try (Journal journal = database.open(folder)) {
      live(journal);
      List<String> columns = new ArrayList<>();
      for (String c : List.of("well", "what", "subject", "by_whom", "body", "hash")) {
        columns.add("entry " + c + " seq");
      }
      for (String c : List.of("well", "point", "rule", "raised_summary", "finding", "note")) {
        columns.add("alarm " + c + " seq");
      }
      columns.add("hold point since_ms");
      columns.add("hold by_whom since_ms");
      columns.add("hold reason since_ms");
      columns.add("outbox route seq");
      columns.add("outbox finding seq");
      int tried = 0;
      for (String column : columns) {
        String[] part = column.split(" ");
        int rows = Integer.parseInt(text(journal, "select count(*) from " + part[0]));
        for (int row = 0; row < rows; row++) {
          String where =
              " where "
                  + part[2]
                  + " = "
                  + text(
                      journal,
                      "select %s from %s order by %s limit 1 offset %d"
                          .formatted(part[2], part[0], part[2], row));
          String was = text(journal, "select " + part[1] + " from " + part[0] + where);
          if (part[1].equals("route")) {
            continue; // which route a waiting message takes is settings, not history
          }
          for (int at = 0; at < was.length(); at += 1 + was.length() / 7) {
            String changed =
                was.substring(0, at)
                    + (char) (was.charAt(at) == 'e' ? 'f' : 'e')
                    + was.substring(at + 1);
            String set = "update " + part[0] + " set " + part[1] + " = ?" + where;
            run(journal, set, changed);
            assertThat(JournalCheckTest.fault(journal)).as("%s: %s", column, changed).isNotNull();
            run(journal, set, was);
            tried++;
          }
        }
      }
      assertThat(tried).isGreaterThan(200);
      assertThat(fault(journal)).as("everything back as it was").isNull();
    }
  }

  private static @org.jspecify.annotations.Nullable String fault(Journal journal) {
    try {
      return JournalCheck.of(journal, null).fault();
    } catch (RuntimeException e) {
      return String.valueOf(e.getMessage()); // no longer readable at all
    }
  }

  @ParameterizedTest
  @EnumSource
  void numbersRowsAndTheEndAreWatchedToo(Databases database) {
    List<String> changes =
        List.of(
            "update entry set written_ms = written_ms + 1 where seq = 3",
            "update alarm set acknowledged_ms = acknowledged_ms - 1000 where acknowledged_ms is not null",
            "update alarm set state = 'NORMAL' where id = 'a'",
            "update alarm set latches = true where id = 'a'",
            "update alarm set times = 2 where id = 'a'",
            "update alarm set priority = 0 where id = 'a'",
            "update alarm set raised_ms = raised_ms + 1 where id = 'a'",
            "update hold set until_ms = until_ms + 60000",
            "delete from hold",
            "update outbox set delivered_ms = 1772971200000 where alarm = 'a'",
            "delete from entry where seq = 2",
            "delete from entry where seq = (select max(seq) from entry)");
    for (String change : changes) {
      try (Journal journal =
          database.open(folder.resolve(Integer.toHexString(change.hashCode())))) {
        live(journal);
        run(journal, change);
        assertThat(fault(journal)).as(change).isNotNull();
      }
    }
  }

  /** The chain by hand, with another reading of the rule: SHA-256 (FIPS 180-4) of the fields. */
  @Test
  void theHashIsThatOfTheFieldsEachWithItsLengthBefore() throws NoSuchAlgorithmException {
    try (Journal journal = Databases.FILE.open(folder)) {
      Entry entry = journal.write(r -> r.enter(5, "w", "note", "", "Ada", "°"));
      MessageDigest sha = MessageDigest.getInstance("SHA-256");
      String fields =
          "\0\0\0@"
              + "0".repeat(64)
              + "\0\0\0\1"
              + "1"
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
