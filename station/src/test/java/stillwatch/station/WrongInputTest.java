package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a user can get wrong: exit 2, one clear line a mistake, no trace. */
class WrongInputTest {
  private static final Path PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml");

  @TempDir Path folder;

  private static Outcome replay(Path plan, Path recording) {
    return Outcome.inside("replay", "--plan", plan.toString(), recording.toString());
  }

  private Path file(String name, byte[] bytes) throws IOException {
    return Files.write(folder.resolve(name), bytes);
  }

  @Test
  void aMissingAnEmptyABinaryRecordingAndAWrongColumn() throws Exception {
    byte[] binary = new byte[5000];
    new Random(1).nextBytes(binary);
    List<Path> wrong =
        List.of(
            folder.resolve("missing.csv"),
            file("empty.csv", new byte[0]),
            file("binary.csv.gz", binary),
            file(
                "columns.csv",
                "zeit,received,operation,PT-1,PT-2,PA-1,TT-1,HY-1,HY-2,TI-1\n"
                    .getBytes(StandardCharsets.UTF_8)));
    for (Path recording : wrong) {
      Outcome outcome = replay(PLAN, recording);
      assertThat(outcome.exit()).as(recording.toString()).isEqualTo(2);
      assertThat(outcome.lines())
          .as(recording.toString())
          .singleElement()
          .asString()
          .contains(recording.getFileName().toString());
    }
  }

  @Test
  void aPlanWithFiveMistakesTellsFiveLines() throws Exception {
    String plan =
        Files.readString(PLAN)
            .replace("kind: tilt", "kind: tilted")
            .replace("unit: Cel\n", "unit: Celsius\n")
            .replace("ceiling: 52 MPa", "ceiling: 52")
            .replace("hold: 3 h", "hodl: 3 h")
            .replace("length: 48 h", "lenght: 48 h");
    Outcome outcome = replay(file("plan.yaml", plan.getBytes(StandardCharsets.UTF_8)), PLAN);
    assertThat(outcome.exit()).isEqualTo(2);
    assertThat(outcome.lines())
        .hasSize(5)
        .allMatch(l -> l.matches(".*plan\\.yaml:[0-9]+:[0-9]+: .*"));
  }

  @Test
  void aBrokerThatIsNotThereAndAnUnknownOption() throws Exception {
    assertThat(Outcome.of("rules", "--plan", PLAN.toString(), "--broker", "127.0.0.1:1"))
        .satisfies(o -> assertThat(o.exit()).isEqualTo(2))
        .satisfies(
            o -> assertThat(o.lines()).anyMatch(l -> l.contains("127.0.0.1:1 does not answer")));
    assertThat(Outcome.of("watch", "--plam", "x").exit()).isEqualTo(2);
    assertThat(Outcome.refused("replay", "--plan", PLAN.toString(), "missing.csv"))
        .contains("missing.csv");
  }

  @Test
  void everyCommandHasHelpAndItCarriesTheCautions() throws Exception {
    for (String command : List.of("watch", "replay", "drill", "intake", "rules", "alerts")) {
      assertThat(Outcome.of(command, "--help").exit()).as(command).isZero();
    }
  }
}
