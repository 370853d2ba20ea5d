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

class TuneTest {
  private static final Path LARKSPUR = Path.of("../demo-data/larkspur");

  @TempDir Path folder;

  private static String line(String text, String start) {
    return text.lines()
        .filter(l -> l.strip().startsWith(start))
        .map(l -> l.substring(l.indexOf(start) + start.length()).strip())
        .findFirst()
        .orElseThrow(() -> new AssertionError("no line '" + start + "' in " + text));
  }

  private String tune(Path plan, Path out, String... more) {
    PrintStream before = System.out;
    ByteArrayOutputStream said = new ByteArrayOutputStream();
    System.setOut(new PrintStream(said, true, StandardCharsets.UTF_8));
    try {
      String[] args = {
        "tune", "--plan", plan.toString(), "--out", out.toString(), "--rule", "sudden-drop",
      };
      String[] all = java.util.Arrays.copyOf(args, args.length + more.length);
      System.arraycopy(more, 0, all, args.length, more.length);
      assertThat(Main.run(all)).isZero();
    } finally {
      System.setOut(before);
    }
    return said.toString(StandardCharsets.UTF_8);
  }

  @Test
  void theRecommendedLimitsPastedIntoThePlanScoreAsItSaid() throws IOException {
    String[] input = {
      "--labels",
      LARKSPUR.resolve("labels.csv").toString(),
      "--sets",
      Integer.getInteger("stillwatch.sets", 20).toString(),
      LARKSPUR.resolve("leak.csv.gz").toString()
    };
    String said = tune(LARKSPUR.resolve("plan.yaml"), folder.resolve("a"), input);
    String fragment = Files.readString(folder.resolve("a/recommended.yaml"));
    String plan = Files.readString(LARKSPUR.resolve("plan.yaml"));
    int from = plan.indexOf("  sudden-drop:\n");
    Path pasted =
        Files.writeString(
            folder.resolve("plan.yaml"),
            plan.substring(0, from)
                + fragment.substring(fragment.indexOf("  sudden-drop:\n"))
                + plan.substring(plan.indexOf("    advice:", from)));

    assertThat(line(tune(pasted, folder.resolve("b"), input), "in force:"))
        .isEqualTo(line(said, "sudden-drop, replayed in full:"))
        .contains("1 of 1 seen");
    assertThat(tune(LARKSPUR.resolve("plan.yaml"), folder.resolve("c"), input))
        .isEqualTo(said.replace(folder.resolve("a").toString(), folder.resolve("c").toString()));
    assertThat(folder.resolve("a/frontier.csv")).content().contains("sudden-drop,recommended,1,0");
    assertThat(folder.resolve("a/frontier.svg")).content().contains("<circle");
  }

  @Test
  void plantedLeaksAreSeenOrMissedByTheirSize() {
    String plantings = Integer.getInteger("stillwatch.plantings", 1).toString();
    String said =
        tune(
            LARKSPUR.resolve("plan.yaml"),
            folder.resolve("p"),
            "--plant",
            "200 kPa",
            "--plant",
            "10 kPa",
            "--plantings",
            plantings,
            "--sets",
            "3",
            LARKSPUR.resolve("low-plateau.csv.gz").toString());
    assertThat(line(said, "planted 200 kPa, in force:"))
        .contains(plantings + " of " + plantings + " seen");
    assertThat(line(said, "planted 10 kPa, in force:")).contains("0 of " + plantings + " seen");
  }
}
