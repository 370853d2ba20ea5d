package stillwatch.rules.replay;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.GZIPInputStream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.recording.OperationsFile;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/**
 * The demo recordings against what truly happened in them: the simulator's scenarios, told again in
 * labels.csv.
 */
class LarkspurRecordingsTest {
  private static final Path FOLDER = Path.of("../demo-data/larkspur");

  private static final Map<String, List<Finding>> REPLAYED = new HashMap<>();

  @TempDir Path folder;

  private static List<Finding> replay(String recording) throws IOException {
    List<Finding> known = REPLAYED.get(recording);
    if (known == null) {
      known = replay(FOLDER.resolve(recording), null);
      REPLAYED.put(recording, known);
    }
    return known;
  }

  private static List<Finding> replay(Path recording, @Nullable Path operations)
      throws IOException {
    Path planFile = FOLDER.resolve("plan.yaml");
    RuleBook book = RuleBook.forPlan(planFile);
    Plan plan = PlanLoader.load(planFile, book.catalogue());
    Problems problems = new Problems();
    List<Finding> findings = new ArrayList<>();
    RecordingLayout layout = plan.recordings();
    RecordingFeed feed = RecordingFeed.open(recording, layout, problems);
    try (TelemetrySource source = OperationsFile.beside(feed, operations, layout, problems)) {
      Replay.run(plan, book, source, findings::add);
    }
    assertThat(problems.report()).isEmpty();
    return findings;
  }

  private static byte[] bytes(List<Finding> findings) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    for (Finding finding : findings) {
      out.write(FindingCodec.encode(finding));
      out.write('\n');
    }
    return out.toByteArray();
  }

  @ParameterizedTest
  @ValueSource(strings = {"intact", "low-plateau", "leak", "sick-gauge"})
  void eachHappeningGetsTheRightRuleInTimeAndNothingElseIsMoreThanInformation(String name)
      throws IOException {
    String recording = name + ".csv.gz";
    List<Finding> raised = replay(recording).stream().filter(f -> !f.returned()).toList();
    List<LarkspurLabels.Label> labels =
        LarkspurLabels.all().stream().filter(l -> l.recording().equals(recording)).toList();
    List<RuleEntry> rules = RuleBook.shipped().catalogue().rules();

    for (LarkspurLabels.Label label : labels) {
      for (RuleEntry rule : rules) {
        Double promised = rule.sees().get(label.what());
        if (promised != null) {
          assertThat(raised)
              .as(rule.id() + " on " + label)
              .anySatisfy(
                  f -> {
                    assertThat(f.rule()).isEqualTo(rule.id());
                    assertThat(Instant.ofEpochMilli(f.raisedMs()))
                        .isBetween(
                            label.from(), label.from().plusMillis(Math.round(promised * 1000)));
                  });
        }
      }
    }
    assertThat(raised)
        .filteredOn(f -> f.priority().compareTo(Priority.INFORMATION) > 0)
        .allSatisfy(
            f -> {
              RuleEntry rule = RuleBook.shipped().catalogue().rule(f.rule()).orElseThrow();
              assertThat(labels)
                  .anySatisfy(
                      label -> {
                        assertThat(
                                rule.sees().containsKey(label.what())
                                    || rule.excused().contains(label.what()))
                            .isTrue();
                        assertThat(Instant.ofEpochMilli(f.raisedMs()))
                            .isBetween(label.from(), label.to());
                      });
            });
  }

  /** What is frozen at a moment must be read alone, hours later, by somebody tired. */
  @ParameterizedTest
  @ValueSource(strings = {"low-plateau", "leak", "sick-gauge"})
  void everySentenceIsShortAndReadsAloneHoursLater(String name) throws IOException {
    List<String> ids = RuleBook.shipped().catalogue().rules().stream().map(RuleEntry::id).toList();
    assertThat(replay(name + ".csv.gz"))
        .isNotEmpty()
        .extracting(Finding::summary)
        .allSatisfy(
            s -> {
              assertThat(s).hasSizeLessThan(235).endsWith(".").doesNotContain("..", "  ", "[", "{");
              assertThat(s).doesNotContainPattern("\\b[Nn]ow\\b|\\bIts? |\\bit\\b");
              assertThat(s).doesNotContainPattern("\\d\\.\\d{4,} MPa(?! \\(|\\)|/h\\))");
              ids.forEach(id -> assertThat(s).doesNotContain(id));
            });
  }

  /** The expectation learns a fall that lasts; the pressure is lower than within the hour still. */
  @Test
  void aFallThatHasBecomeEvenIsNotOver() throws IOException {
    assertThat(replay("leak.csv.gz"))
        .filteredOn(f -> f.rule().equals("sustained-drop"))
        .isNotEmpty()
        .noneMatch(Finding::returned);
  }

  @Test
  void aLowPlateauRisesWithinTenMinutesOfThreeHoursFlat() throws IOException {
    Instant flat = LarkspurLabels.from("low-plateau.csv.gz", "went-flat");

    assertThat(replay("low-plateau.csv.gz"))
        .filteredOn(f -> f.rule().equals("low-plateau"))
        .singleElement()
        .satisfies(
            f ->
                assertThat(Instant.ofEpochMilli(f.raisedMs()))
                    .isBetween(flat.plus(Duration.ofHours(3)), flat.plus(Duration.ofMinutes(190))));
  }

  @Test
  void theSameRecordingTwiceGivesTheSameBytes() throws IOException {
    List<Finding> first = replay("leak.csv.gz");

    assertThat(bytes(first)).isEqualTo(bytes(replay(FOLDER.resolve("leak.csv.gz"), null)));
    for (Finding finding : first) {
      assertThat(FindingCodec.decode(FindingCodec.encode(finding))).isEqualTo(finding);
    }
  }

  /** The operations' column is the last. */
  @Test
  void operationsFromAFileBesideTheRecordingGiveTheSameBytes() throws IOException {
    StringBuilder rows = new StringBuilder();
    StringBuilder told = new StringBuilder("time,operation\n");
    try (BufferedReader in =
        new BufferedReader(
            new InputStreamReader(
                new GZIPInputStream(Files.newInputStream(FOLDER.resolve("leak.csv.gz"))),
                StandardCharsets.UTF_8))) {
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        String[] cells = line.split(",", 10);
        rows.append(line, 0, line.length() - cells[9].length())
            .append(cells[0].equals("time") ? "operation\n" : "\n");
        if (!cells[9].isEmpty() && !cells[0].equals("time")) {
          told.append(cells[0]).append(',').append(cells[9]).append('\n');
        }
      }
    }
    Path bare = Files.writeString(folder.resolve("bare.csv"), rows);
    Path operations = Files.writeString(folder.resolve("operations.csv"), told);
    assertThat(bytes(replay(bare, operations))).isEqualTo(bytes(replay("leak.csv.gz")));
    assertThat(bytes(replay(bare, null))).isNotEqualTo(bytes(replay("leak.csv.gz")));
  }
}
