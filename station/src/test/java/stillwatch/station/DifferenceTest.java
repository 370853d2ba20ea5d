package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a replay leaves in its folder, and what other limits would change. */
class DifferenceTest {
  private static final Path LARKSPUR = Path.of("../demo-data/larkspur");

  @TempDir Path folder;

  @Test
  void otherLimitsAreToldByWhatAppearsDisappearsAndMoves() throws IOException {
    String plan = Files.readString(LARKSPUR.resolve("plan.yaml"));
    Path other =
        Files.writeString(
            folder.resolve("other.yaml"),
            plan.replace(
                "rules:\n",
                """
                rules:
                  sustained-drop: {deviations: 400}
                  acoustic-rise: {rise: 50 dB}
                  gauge-silent: {periods: 3, least: 15 s}
                """));
    PrintStream before = System.out;
    PrintStream errors = System.err;
    ByteArrayOutputStream said = new ByteArrayOutputStream();
    ByteArrayOutputStream summary = new ByteArrayOutputStream();
    System.setOut(new PrintStream(said, true, StandardCharsets.UTF_8));
    System.setErr(new PrintStream(summary, true, StandardCharsets.UTF_8));
    try {
      assertThat(
              Main.run(
                  "replay",
                  "--plan",
                  LARKSPUR.resolve("plan.yaml").toString(),
                  "--against",
                  other.toString(),
                  "--out",
                  folder.toString(),
                  LARKSPUR.resolve("leak.csv.gz").toString()))
          .isZero();
    } finally {
      System.setOut(before);
      System.setErr(errors);
    }
    String text = said.toString(StandardCharsets.UTF_8);
    assertThat(text)
        .contains("s sooner: low gauge-silent (HY-2)")
        .contains("s later: high sustained-drop (PT-1, PT-2)")
        .contains("disappears: medium acoustic-rise (HY-1, HY-2)")
        .doesNotContain("sudden-drop (");
    rock(summary.toString(StandardCharsets.UTF_8));
    Path kept = folder.resolve("leak");
    assertThat(kept.resolve("page.html")).content().contains("sooner: low gauge-silent", "uPlot");
    assertThat(kept.resolve("page.html")).content().doesNotContain("http-equiv", "src=\"http");
    assertThat(kept.resolve("trails.csv")).content().startsWith("time,gauge,trusted,level");
    assertThat(Files.readAllLines(kept.resolve("findings.ndjson"))).hasSizeGreaterThan(8);
  }

  /** The scenario's 700 kPa a cycle are the middle of the facts, 20 µm²·m (docs/well-model.md). */
  private static void rock(String summary) {
    assertThat(
            Pattern.compile("PT-[12]: .*permeability-thickness of ([0-9.]+)")
                .matcher(summary)
                .results())
        .hasSize(2)
        .allSatisfy(m -> assertThat(Double.parseDouble(m.group(1))).isBetween(19.2, 20.5));
  }

  @Test
  void aRecordingWithoutAClosingSaysThatItTellsNothingOfTheRock() throws IOException {
    Path rows =
        Files.writeString(
            folder.resolve("rows.csv"),
            """
            time,received,PT-1,PT-2,PA-1,TT-1,HY-1,HY-2,TI-1,operation
            2026-03-08T06:00:00Z,,45000,44990,14200,20,92,92,0.3,
            2026-03-08T06:00:01Z,,45000,44990,,,,,,
            """);
    PrintStream errors = System.err;
    ByteArrayOutputStream summary = new ByteArrayOutputStream();
    System.setErr(new PrintStream(summary, true, StandardCharsets.UTF_8));
    try {
      String plan = LARKSPUR.resolve("plan.yaml").toString();
      assertThat(Main.run("replay", "--plan", plan, rows.toString())).isZero();
    } finally {
      System.setErr(errors);
    }
    assertThat(summary.toString(StandardCharsets.UTF_8))
        .contains("No permeability-thickness: no closure step is in the recording.");
  }
}
