package stillwatch.alerts.room;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.book.RuleMeaning;
import stillwatch.rules.finding.Evidence;
import stillwatch.rules.finding.Finding;

/** Levels worked out by hand from what the rules say in the leak drill. */
class TrailLinesTest {
  private static Finding finding(String rule, Map<String, Double> saw, Map<String, String> limits) {
    return new Finding(
        "a",
        rule,
        RuleMeaning.on(RuleEntry.About.WELL),
        "w",
        null,
        "0",
        rule,
        Priority.HIGH,
        "w",
        List.of("G"),
        0,
        0,
        null,
        "It is so.",
        limits,
        new Evidence(saw, List.of()),
        "watching",
        "Call.",
        "A1",
        "0");
  }

  private static List<TrailLines.Line> lines(Map<String, Double> saw, Map<String, String> limits) {
    return TrailLines.of(finding("any", saw, limits));
  }

  @Test
  void aFallIsMeasuredFromTheLevelAMinuteBefore() {
    assertThat(
            lines(
                Map.of("level", 44_897.0, "fall", 188.0),
                Map.of("fall", "0.03 MPa", "hold", "3 s")))
        .containsExactly(
            new TrailLines.Line(Kind.PRESSURE, 45_055, "limit: 0.03 MPa under a minute before"));
  }

  @Test
  void soundIsMeasuredFromItsBackground() {
    assertThat(lines(Map.of("level", 121.0, "rise", 31.0), Map.of("rise", "6 dB")))
        .containsExactly(
            new TrailLines.Line(Kind.SOUND, 90, "background"),
            new TrailLines.Line(Kind.SOUND, 96, "limit: 6 dB over it"));
  }

  @Test
  void levelsThatARuleNamesAreDrawnAsTheyAre() {
    assertThat(lines(Map.of("level", 45_088.0, "missing", 18.0, "ceiling", 55_000.0), Map.of()))
        .extracting(TrailLines.Line::level)
        .containsExactly(55_000.0, 45_106.0);
  }

  @Test
  void whatIsNoLevelIsNotDrawn() {
    assertThat(lines(Map.of("silentS", 35.0, "intactLow", Double.NaN), Map.of("periods", "5")))
        .isEmpty();
  }
}
