package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
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
    ByteArrayOutputStream said = new ByteArrayOutputStream();
    System.setOut(new PrintStream(said, true, StandardCharsets.UTF_8));
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
    }
    String text = said.toString(StandardCharsets.UTF_8);
    assertThat(text)
        .contains("s sooner: low gauge-silent (HY-2)")
        .contains("s later: high sustained-drop (PT-1, PT-2)")
        .contains("disappears: medium acoustic-rise (HY-1, HY-2)")
        .doesNotContain("sudden-drop (");
    Path kept = folder.resolve("leak");
    assertThat(kept.resolve("page.html")).content().contains("sooner: low gauge-silent", "uPlot");
    assertThat(kept.resolve("page.html")).content().doesNotContain("http-equiv", "src=\"http");
    assertThat(kept.resolve("trails.csv")).content().startsWith("time,gauge,trusted,level");
    assertThat(Files.readAllLines(kept.resolve("findings.ndjson"))).hasSizeGreaterThan(8);
  }
}
