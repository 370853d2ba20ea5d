package stillwatch.rules.replay;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/**
 * Real recordings of real subsea gauges, where the machine has them. What is in them is told in the
 * README beside them: 1 Hz files of the public 3W data set (Vargas et al. 2019, J. Petroleum
 * Science and Engineering 181, 106223) and eight sensors side by side (Marry and Foster 2024).
 */
class RealRecordingsTest {
  private static final Path FOLDER =
      Path.of(System.getProperty("stillwatch.recordings", "../../shared/recordings"));

  @TempDir Path temporary;

  private final Problems problems = new Problems();

  @BeforeEach
  void thereOrSkipped() {
    assumeTrue(
        Files.isDirectory(FOLDER),
        "skipped: there are no real recordings at "
            + FOLDER
            + "; give their folder with -Dstillwatch.recordings");
  }

  private List<Finding> replay(String recording, String gauges, String columns) throws IOException {
    String plan =
        """
        plan: 1
        well: real
        name: real
        revision: "1"
        gauges:
        %s
        bands: {intact-low: 2 bar, leak-high: 1 bar, ceiling: 690 bar}
        test: {phases: [watching], hold-point-every: 6 h, length: 48 h}
        recordings:
          shape: wide
          time: {column: timestamp, format: rfc3339, zone: UTC}
          columns: {%s}
        """
            .formatted(gauges, columns);
    Path file = Files.writeString(temporary.resolve("plan.yaml"), plan);
    RuleBook book = RuleBook.forPlan(file);
    Plan read = PlanLoader.load(file, book.catalogue());
    List<Finding> findings = new ArrayList<>();
    try (RecordingFeed feed =
        RecordingFeed.open(FOLDER.resolve(recording + ".csv.gz"), read.recordings(), problems)) {
      Replay.run(read, book, feed, findings::add);
    }
    return findings.stream().filter(f -> !f.returned()).toList();
  }

  private List<Finding> replay(String recording) throws IOException {
    String gauge =
        "- {id: %s, kind: pressure, where: x, unit: Pa, period: 1 s, range: {low: 1 bar, high: 690 bar}, accuracy: 1 bar, resolution: 0 Pa%s}%n";
    return replay(
        recording,
        gauge.formatted("P-TPT", ", role: shut-in") + gauge.formatted("P-PDG", ""),
        "P-TPT: P-TPT, P-PDG: P-PDG");
  }

  /**
   * The pressure at the tree turns downward so many seconds into the file; in the third it first
   * rises for 70 s after the valve has closed.
   */
  @ParameterizedTest
  @CsvSource({
    "c2_WELL-00003_20141122214325, 2014-11-22T21:43:25Z, 2401",
    "c2_WELL-00009_20170313160804, 2017-03-13T16:08:04Z, 3523",
    "c2_WELL-00011_20140606230115, 2014-06-06T23:01:15Z, 1968"
  })
  void aClosingValveIsASuddenDropWithinAMinuteOfItsTurn(
      String recording, String start, long closesS) throws IOException {
    long closesMs = Instant.parse(start).toEpochMilli() + closesS * 1000;
    assertThat(replay(recording))
        .filteredOn(f -> f.rule().equals("sudden-drop"))
        .first()
        .satisfies(f -> assertThat(f.raisedMs() - closesMs).isBetween(0L, 60_000L));
  }

  @Test
  void aNormalWellWithBothGaugesAliveIsQuiet() throws IOException {
    assertThat(replay("c0_WELL-00003_20170514010000")).isEmpty();
  }

  @Test
  void aClockSetBackAnHourIsToldAndHardlyAnythingAboutTheWell() throws IOException {
    List<Finding> findings = replay("c0_WELL-00001_20170218210311");
    assertThat(problems.count(Problems.Sort.OUT_OF_ORDER)).isEqualTo(1);
    assertThat(findings)
        .filteredOn(f -> f.about() == RuleEntry.About.WELL)
        .filteredOn(f -> f.priority().compareTo(Priority.LOW) > 0)
        .hasSizeLessThanOrEqualTo(1); // a producing well wanders: no more than one well alert a day
    assertThat(findings).noneMatch(f -> f.rule().equals("gauge-frozen"));
    assertThat(findings).anyMatch(f -> f.rule().equals("clock-skew"));
    assertThat(findings)
        .anyMatch(f -> f.rule().equals("gauge-out-of-range") && f.gauges().contains("P-PDG"));
  }

  @Test
  void aHealthyGaugeThatStandsStillForAnHourAndAHalfIsNotFrozenAndItsGlitchingNeighbourIsTold()
      throws IOException {
    List<Finding> findings = replay("c0_WELL-00006_20170506070114");
    assertThat(findings).noneMatch(f -> f.gauges().contains("P-TPT"));
    assertThat(findings)
        .anyMatch(f -> f.rule().equals("gauge-spiking") && f.gauges().contains("P-PDG"));
    assertThat(findings) // four bursts of glitches, not an alert a glitch
        .filteredOn(f -> f.rule().equals("gauge-out-of-range"))
        .hasSizeBetween(1, 6);
  }

  @ParameterizedTest
  @CsvSource({
    "c2_WELL-00011_20140606230115, 2014-06-06T23:01:15Z, 6648, 6788",
    "c4_WELL-00010_20180428120207, 2018-04-28T12:02:07Z, 6480, 6894"
  })
  void aDropOutToNothingIsAGaugeFault(String recording, String start, long fromS, long toS)
      throws IOException {
    long startMs = Instant.parse(start).toEpochMilli();
    assertThat(replay(recording))
        .anySatisfy(
            f -> {
              assertThat(f.rule()).isEqualTo("gauge-out-of-range");
              assertThat(f.gauges()).containsExactly("P-PDG");
              assertThat((f.raisedMs() - startMs) / 1000).isBetween(fromS, toS);
            });
  }

  @Test
  void eightSensorsInBreakingWavesAreReadAndNoneIsCalledBroken() throws IOException {
    StringBuilder gauges = new StringBuilder();
    List<String> columns = new ArrayList<>();
    for (int i = 1; i <= 8; i++) {
      gauges.append(
          "- {id: P%d, kind: pressure, where: stick, unit: \"m[H2O]\", period: 1 s, range: {low: -1 bar, high: 1 bar}, accuracy: 4 kPa, resolution: 1 Pa%s}%n"
              .formatted(i, i == 1 ? ", role: shut-in" : ""));
      columns.add("P" + i + ": P" + i + "_m");
    }
    assertThat(replay("unh_pressure_stick_2min", gauges.toString(), String.join(", ", columns)))
        .isEmpty();
    assertThat(problems.report()).isEmpty();
  }
}
