package stillwatch.alerts.journal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.time.Clock;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.zip.GZIPInputStream;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.configuration.FluentConfiguration;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.alerts.desk.JournalCheck;
import stillwatch.alerts.people.Pass;
import stillwatch.alerts.people.People;
import stillwatch.ingest.bus.Topics;

/** A journal of the version before, whose rows no entry vouches for. */
class UpgradeTest {
  @TempDir Path folder;

  private static void upTo(String version, String url, Databases database) {
    var unused =
        Flyway.configure()
            .dataSource(url, database.user(), "")
            .locations("classpath:stillwatch/journal")
            .target(version)
            .load()
            .migrate();
  }

  private void before(Databases database) throws Exception {
    String url = database.url(folder);
    upTo("3", url, database);
    String hash =
        Entry.hash(Entry.NOTHING_BEFORE, 1, 5, "", "token-made", "winch", "Ada", "operate", null);
    try (var c = DriverManager.getConnection(url, database.user(), "");
        var s = c.createStatement()) {
      s.execute("insert into person values ('Ada', 'administer', 'kept')");
      s.execute(
          "insert into token values ('" + "1".repeat(64) + "', 'winch', 'operate', false, null)");
      s.execute(
          "insert into token values ('"
              + "2".repeat(64)
              + "', '', 'administer', true, 9999999999999)");
      s.execute(
          "insert into entry values (1, 5, '', 'token-made', 'winch', 'Ada', 'operate', '"
              + hash
              + "')");
      s.execute("update head set seq = 1, hash = '" + hash + "'");
    }
  }

  @ParameterizedTest
  @EnumSource
  void itIsWholeFromThenOnAndKnowsWhoMadeWhat(Databases database) throws Exception {
    before(database);
    try (Journal journal = database.open(folder)) {
      assertThat(JournalCheck.of(journal, null).fault()).isNull();
      People people = new People(journal, Clock.systemUTC());
      assertThat(people.passes())
          .as("links of before are made anew")
          .extracting(Pass::name)
          .containsExactly("winch");
      assertThat(people.passes().get(0).madeBy()).isEqualTo("Ada");
      assertThat(people.passes().get(0).madeMs()).isEqualTo(5);
    }
    try (Journal journal = database.open(folder)) {
      assertThat(journal.head().seq()).as("vouched for once").isEqualTo(2);
    }
  }

  @ParameterizedTest
  @EnumSource
  void thatOfANewerVersionIsLeftAlone(Databases database) throws Exception {
    database.open(folder).close();
    try (var c = DriverManager.getConnection(database.url(folder), database.user(), "");
        var s = c.createStatement()) {
      s.execute(
          "insert into \"flyway_schema_history\" (\"installed_rank\", \"version\", \"description\","
              + " \"type\", \"script\", \"installed_by\", \"execution_time\", \"success\")"
              + " values (99, '99', 'later', 'SQL', 'V99__later.sql', 'x', 1, true)");
    }
    assertThatThrownBy(() -> database.open(folder))
        .isInstanceOf(JournalException.class)
        .hasMessageContaining("a newer Stillwatch has written them (version 99)");
  }

  /**
   * A journal that was written by the program of the version before, not by this test: an exercise
   * on the demo's leak, after which an alarm was acknowledged, one shelved and a note added.
   */
  @Test
  void thatOfTheProgramBeforeIsWholeWithAllThatWasDone() throws Exception {
    try (InputStream kept = UpgradeTest.class.getResourceAsStream("version-3.mv.db.gz");
        InputStream file = new GZIPInputStream(Objects.requireNonNull(kept))) {
      Files.copy(file, folder.resolve("journal.mv.db"));
    }
    try (Journal journal = Journal.inFolder(folder)) {
      JournalCheck.Result result = JournalCheck.of(journal, "401c75bf99303790dfe88fbf484745aa");
      assertThat(result.fault()).isNull();
      assertThat(result.entries()).as("its 29, and the one that vouches").isEqualTo(30);
      assertThat(journal.inbox("larkspur-2", Topics.ALERTS)).as("as it was before").isNotEmpty();
    }
  }

  /**
   * A watch that is killed while it makes its tables leaves some of them: a file's tables are made
   * statement by statement, not all or none.
   */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "V1__journal",
        "V2__people",
        "V3__about",
        "V4__makers",
        "V5__held_since",
        "V6__log_time",
        "V7__wells"
      })
  void whatAKillLeftHalfMadeIsMadeWhole(String script) throws Exception {
    List<String> statements = statements(script);
    for (int done = 1; done <= statements.size(); done++) {
      Path half = Files.createDirectory(folder.resolve(script + done));
      String url = Journal.fileUrl(half);
      FluentConfiguration before = Flyway.configure().dataSource(url, Databases.FILE.user(), "");
      if (script.startsWith("V1")) {
        before.locations("classpath:stillwatch/none").load().migrate(); // its own table alone
      } else {
        String target = String.valueOf((char) (script.charAt(1) - 1));
        before.locations("classpath:stillwatch/journal").target(target).load().migrate();
      }
      try (var c = DriverManager.getConnection(url, Databases.FILE.user(), "");
          var s = c.createStatement()) {
        for (String statement : statements.subList(0, done)) {
          s.execute(statement);
        }
      }
      try (Journal journal = Journal.inFolder(half)) {
        assertThat(JournalCheck.of(journal, null).fault())
            .as("%s statements of %s", done, script)
            .isNull();
      }
    }
  }

  /** What these wells have said, and how far whoever read for them had got, before version 7. */
  private static void tookInUpTo7(Databases database, Path folder, String... wells)
      throws Exception {
    String url = database.url(folder);
    upTo("6", url, database);
    String hash = Entry.NOTHING_BEFORE;
    try (var c = DriverManager.getConnection(url, database.user(), "");
        var s = c.createStatement()) {
      for (int i = 1; i <= wells.length; i++) {
        hash = Entry.hash(hash, i, 5, wells[i - 1], "note", "", "Ada", "seen", null);
        s.execute(
            "insert into entry values (%s, 5, '%s', 'note', '', 'Ada', 'seen', '%s', null)"
                .formatted(i, wells[i - 1], hash));
      }
      s.execute("update head set seq = %s, hash = '%s'".formatted(wells.length, hash));
      s.execute("insert into inbox values ('" + Topics.ALERTS + "', 0, 7)");
    }
  }

  @ParameterizedTest
  @EnumSource
  void theOneWellOfAJournalGoesOnWhereItStopped(Databases database) throws Exception {
    tookInUpTo7(database, folder, "", "larkspur-2", "larkspur-2");
    try (Journal journal = database.open(folder)) {
      assertThat(journal.inbox("larkspur-2", Topics.ALERTS)).containsExactly(Map.entry(0, 7L));
      assertThat(JournalCheck.of(journal, null).fault()).isNull();
    }
  }

  @ParameterizedTest
  @EnumSource
  void eachOfSeveralWellsIsReadFromTheStartForOneMayHaveMissedWhatAnotherTook(Databases database)
      throws Exception {
    tookInUpTo7(database, folder, "larkspur-2", "larkspur-3");
    try (Journal journal = database.open(folder)) {
      assertThat(journal.inbox("larkspur-2", Topics.ALERTS)).isEmpty();
      assertThat(journal.inbox("larkspur-3", Topics.ALERTS)).isEmpty();
      assertThat(JournalCheck.of(journal, null).fault()).isNull();
    }
  }

  @Test
  void aKillWhileTheWellIsWrittenInDoesNotLoseWhereItStopped() throws Exception {
    List<String> statements = statements("V7__wells");
    for (int done = 1; done <= statements.size(); done++) {
      Path half = Files.createDirectory(folder.resolve("half" + done));
      tookInUpTo7(Databases.FILE, half, "larkspur-2");
      try (var c = DriverManager.getConnection(Journal.fileUrl(half), Databases.FILE.user(), "");
          var s = c.createStatement()) {
        for (String statement : statements.subList(0, done)) {
          s.execute(statement);
        }
      }
      try (Journal journal = Journal.inFolder(half)) {
        assertThat(journal.inbox("larkspur-2", Topics.ALERTS))
            .as("killed after %s statements", done)
            .containsExactly(Map.entry(0, 7L));
      }
    }
  }

  private static List<String> statements(String script) throws IOException {
    try (InputStream in =
        UpgradeTest.class.getResourceAsStream("/stillwatch/journal/" + script + ".sql")) {
      String text =
          new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8)
              .replaceAll("(?m)^--.*$", "");
      return Arrays.stream(text.split(";\\s*")).filter(s -> !s.isBlank()).toList();
    }
  }
}
