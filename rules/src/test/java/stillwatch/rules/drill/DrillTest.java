package stillwatch.rules.drill;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Simulated recordings can be made again from their scenarios. */
class DrillTest {
  private static final Path LARKSPUR = Path.of("../demo-data/larkspur");

  @TempDir Path folder;

  @ParameterizedTest
  @ValueSource(strings = {"leak", "low-plateau", "sick-gauge", "intact"})
  void aScenarioGivesTheShippedRecordingToTheByte(String name) throws IOException {
    Path made = folder.resolve(name + ".csv");
    Drill.write(Scenario.read(LARKSPUR.resolve("scenarios/" + name + ".yaml")), made);
    try (var shipped =
        new GZIPInputStream(Files.newInputStream(LARKSPUR.resolve(name + ".csv.gz")))) {
      assertThat(Files.readAllBytes(made)).isEqualTo(shipped.readAllBytes());
    }
  }

  @Test
  void whatCannotBeSimulatedIsToldBeforeTheRecordingIsBegun() throws IOException {
    String text = Files.readString(LARKSPUR.resolve("scenarios/leak.yaml"));
    Path out = folder.resolve("none.csv");
    Path sense =
        Files.writeString(folder.resolve("a.yaml"), text.replace("senses: tilt", "senses: smell"));
    assertThatThrownBy(() -> Drill.write(Scenario.read(sense), out))
        .isInstanceOf(DrillException.class)
        .hasMessageContaining("smell");
    Path twice =
        Files.writeString(folder.resolve("b.yaml"), text.replace("from: 0.7,", "from: 0.75,"));
    assertThatThrownBy(() -> Drill.write(Scenario.read(twice), out))
        .isInstanceOf(DrillException.class)
        .hasMessageContaining("one second");
    assertThat(out).doesNotExist();
  }
}
