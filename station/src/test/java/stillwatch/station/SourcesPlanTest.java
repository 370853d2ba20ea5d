package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.door.MqttPlan;
import stillwatch.rules.plan.Plan;
import stillwatch.station.option.PlanOption;

/** What plans say of sources: the example of docs/adapters.md, and mistakes in it. */
class SourcesPlanTest {
  @TempDir Path folder;

  private static String example() throws Exception {
    String doc = Files.readString(Path.of("../docs/adapters.md"));
    int from = doc.indexOf("```yaml\nsources:") + "```yaml\n".length();
    return doc.substring(from, doc.indexOf("```", from));
  }

  private Plan load(String sources) throws Exception {
    Path file = folder.resolve("plan.yaml");
    Files.writeString(
        file, Files.readString(Path.of("../demo-data/larkspur/plan.yaml")) + "\n" + sources);
    return PlanOption.load(file).plan();
  }

  @Test
  void theExampleOfTheDocumentsIsAPlan() throws Exception {
    MqttPlan mqtt = (MqttPlan) load(example()).sources().get(0).way();
    assertThat(mqtt.client()).isEqualTo("stillwatch-larkspur-2-gateway");
    assertThat(mqtt.topics()).hasSize(3);
    assertThat(mqtt.topics().get(0).gauges()).containsEntry("starboard", "PT-2");
  }

  @Test
  void aMistakeNamesTheSourceAndTheGauge() {
    refuses("gauge: TT-1}", "gauge: TT-9}", "source 'gateway': there is no gauge 'TT-9'");
    refuses("unit: MPa", "unit: Cel", "source 'gateway', gauge 'PT-1'");
    refuses("cap/+/state", "cap/+x/state", "is no topic filter");
    refuses("value: /pressure/value", "value: pressure", "is no JSON pointer");
  }

  private void refuses(String right, String wrong, String why) {
    assertThatThrownBy(() -> load(example().replace(right, wrong))).hasMessageContaining(why);
  }
}
