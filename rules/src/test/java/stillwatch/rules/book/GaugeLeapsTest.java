package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.rules.finding.Finding;

/**
 * One of two gauges goes where no well can take it from one reading to the next, stays for minutes
 * and comes back, again and again, as one with a loose connection does (common practice, no
 * source); the other feels the tide.
 */
class GaugeLeapsTest {
  private static final int HOUR = 3600;
  private static final double LEVEL = 47_000;

  /** Of the M2 constituent, 28.9841042 degrees an hour (NOAA), kPa. */
  private static double tide(double hours) {
    return 6 * Math.cos(Math.toRadians(28.9841042 * hours));
  }

  /** The twins for three hours, then PT-2 elsewhere for a third of each of these stretches. */
  private static WellDriver leaping(double elsewhere, int stretchS, int seconds) {
    return new WellDriver()
        .run(3 * HOUR, s -> LEVEL + tide(s / 3600.0))
        .run(
            seconds,
            s -> LEVEL + tide(3 + s / 3600.0),
            s -> s / stretchS % 3 == 0 ? elsewhere : LEVEL - 6 + tide(3 + s / 3600.0));
  }

  /** The same of gauges that speak every ten seconds. */
  private static WellDriver slowlyLeaping(Path plan, double elsewhere, int stretchS) {
    return new WellDriver(plan)
        .run(
            3 * HOUR,
            s -> told(s, LEVEL + tide(s / 3600.0)),
            s -> told(s, LEVEL - 6 + tide(s / 3600.0)))
        .run(
            4 * HOUR,
            s -> told(s, LEVEL + tide(3 + s / 3600.0)),
            s -> told(s, s / stretchS % 3 == 0 ? elsewhere : LEVEL - 6 + tide(3 + s / 3600.0)));
  }

  private static double told(int second, double value) {
    return second % 10 == 0 ? value : Double.NaN;
  }

  private static List<Finding> ofTheWell(WellDriver well) {
    return well.findings().stream()
        .filter(f -> f.about() == RuleEntry.About.WELL && f.priority().compareTo(Priority.LOW) > 0)
        .toList();
  }

  @Test
  void leapsBeyondTheCeilingAndBackAreTheGaugesOwn() {
    try (WellDriver well = leaping(80_000, 400, 2 * HOUR)) {
      assertThat(ofTheWell(well)).isEmpty();
      assertThat(well.first("gauge-drifting").summary())
          .contains("PT-2 reads 80 MPa", "PT-2 got there faster than fluid can move");
      assertThat(well.said("gauge-unresponsive")).isEmpty();
    }
  }

  @Test
  void leapsOfSlowGaugesAreNoMovementThatTheOtherMissed(@TempDir Path folder) throws IOException {
    String demo = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    Path plan =
        Files.writeString(folder.resolve("plan.yaml"), demo.replace("period: 1 s", "period: 10 s"));
    try (WellDriver well = slowlyLeaping(plan, 80_000, 400)) {
      assertThat(ofTheWell(well)).isEmpty();
      assertThat(well.said("gauge-unresponsive")).isEmpty();
    }
  }

  @Test
  void leapsIntoTheLeakBandAndBackStartNoClockAndFeignNoLoss() {
    try (WellDriver well = leaping(30_000, 60, 4 * HOUR)) {
      assertThat(ofTheWell(well)).isEmpty();
      assertThat(well.said("gauge-unresponsive")).isEmpty();
    }
  }

  @Test
  void aLossThatTheOtherSeesBesideItIsHigh() {
    try (WellDriver well = leaping(80_000, 400, HOUR)) {
      well.run(
          HOUR,
          s -> LEVEL - Math.min(800, s),
          s -> s / 400 % 3 == 0 ? 80_000 : LEVEL - 6 - Math.min(800, s));
      assertThat(ofTheWell(well)).isNotEmpty().allMatch(f -> f.priority() == Priority.HIGH);
    }
  }

  @Test
  void aLeapOfTheOnlyGaugeThatSpeaksIsJudgedForTheCeiling() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> LEVEL)
          .run(600, s -> Double.NaN, s -> LEVEL)
          .run(300, s -> Double.NaN, s -> 80_000);
      assertThat(well.said("ceiling-crossed")).hasSize(1);
    }
  }

  @Test
  void whatAGaugeReadsBelowTheSeaIsTold() {
    try (WellDriver well = leaping(6_000, 400, 300)) {
      assertThat(well.first("below-sea").summary()).startsWith("PT-2 reads 6 MPa, less than");
    }
  }
}
