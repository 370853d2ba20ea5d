package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.rules.engine.RuleBook;

/** Sources whose artifact is not on the class path, as it is not here. */
class BroughtSourcesTest {
  @TempDir Path folder;

  @ParameterizedTest
  @ValueSource(strings = {"modbus", "opcua"})
  void aPlanThatNamesOneIsToldWhichArtifactIsLacking(String kind) throws Exception {
    Path plan =
        Files.writeString(
            folder.resolve("plan.yaml"),
            Files.readString(Path.of("../demo-data/larkspur/plan.yaml"))
                + "\nsources: {%s: [{name: cap, server: x}]}\n".formatted(kind));
    assertThatThrownBy(() -> PlanLoader.load(plan, RuleBook.forPlan(plan).catalogue()))
        .hasMessageContaining(
            "source 'cap': %s wants the artifact stillwatch-fieldbus, which is not there; put its jar and those beside it into the folder 'fieldbus'"
                .formatted(kind));
  }
}
