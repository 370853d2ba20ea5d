package stillwatch.rules.replay;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
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

  private static List<Finding> replay(String recording) throws IOException {
    Path planFile = FOLDER.resolve("plan.yaml");
    RuleBook book = RuleBook.forPlan(planFile);
    Plan plan = PlanLoader.load(planFile, book.catalogue());
    Problems problems = new Problems();
    List<Finding> findings = new ArrayList<>();
    try (RecordingFeed feed =
        RecordingFeed.open(FOLDER.resolve(recording), plan.recordings(), problems)) {
      Replay.run(plan, book, feed, findings::add);
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

  @Test
  void aSoundWellAtAnAmbiguousLevelRaisesNothing() throws IOException {
    assertThat(replay("intact.csv.gz")).isEmpty();
  }

  @Test
  void aLowPlateauRisesWithinTenMinutesOfThreeHoursFlat() throws IOException {
    List<Finding> findings = replay("low-plateau.csv.gz");

    assertThat(findings).extracting(Finding::rule).containsExactly("low-plateau");
    assertThat(Instant.ofEpochMilli(findings.get(0).raisedMs()))
        .isBetween(
            LarkspurLabels.wentFlat().plus(Duration.ofHours(3)),
            LarkspurLabels.wentFlat().plus(Duration.ofMinutes(190)));
  }

  @Test
  void aLeakThatGivesWayIsASuddenDropWithinHalfAMinute() throws IOException {
    Instant fast = LarkspurLabels.leakFast();

    assertThat(replay("leak.csv.gz"))
        .filteredOn(f -> f.rule().equals("sudden-drop"))
        .singleElement()
        .satisfies(
            f ->
                assertThat(Instant.ofEpochMilli(f.raisedMs()))
                    .isBetween(fast, fast.plusSeconds(30)));
  }

  @Test
  void aSickTwinRaisesGaugeRulesOnly() throws IOException {
    List<Finding> raised = replay("sick-gauge.csv.gz").stream().filter(f -> !f.returned()).toList();

    assertThat(raised)
        .extracting(Finding::rule)
        .containsExactly("gauge-divergence", "gauge-frozen", "gauge-out-of-range", "gauge-silent");
  }

  @Test
  void theSameRecordingTwiceGivesTheSameBytes() throws IOException {
    List<Finding> first = replay("leak.csv.gz");

    assertThat(bytes(first)).isEqualTo(bytes(replay("leak.csv.gz")));
    for (Finding finding : first) {
      assertThat(FindingCodec.decode(FindingCodec.encode(finding))).isEqualTo(finding);
    }
  }
}
