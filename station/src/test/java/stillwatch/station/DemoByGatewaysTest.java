package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The demo through real doors, as the README shows it: two commands, beside each other. */
@Timeout(300)
class DemoByGatewaysTest {
  private static final String RECORDING = "leak.csv.gz";

  @TempDir Path home;

  /** The demo's own files, but for the ports, which others may have on this machine. */
  private Path plan() throws Exception {
    Path folder = Files.createDirectories(home.resolve("demo-data/larkspur"));
    Files.copy(WatchProcess.LARKSPUR.resolve(RECORDING), folder.resolve(RECORDING));
    String text = Files.readString(WatchProcess.LARKSPUR.resolve("sources-demo.yaml"));
    return Files.writeString(
        folder.resolve("sources-demo.yaml"),
        text.replace(":15020", ":" + MqttSourceTest.freePort())
            .replace(":14840", ":" + MqttSourceTest.freePort()));
  }

  /** What the recording has for PT-1 in the first minutes that the gateways say, kPa. */
  private static List<Double> recorded() throws Exception {
    try (BufferedReader in =
        new BufferedReader(
            new InputStreamReader(
                new GZIPInputStream(Files.newInputStream(WatchProcess.LARKSPUR.resolve(RECORDING))),
                StandardCharsets.UTF_8))) {
      return in.lines()
          .filter(l -> l.startsWith("2026-03-08T11:44") || l.startsWith("2026-03-08T11:45"))
          .map(l -> Double.valueOf(l.split(",", -1)[2]))
          .toList();
    }
  }

  private static boolean says(JsonNode state) {
    return state.path("sources").path(0).path("connected").asBoolean()
        && state.path("gauges").path(0).path("value").isNumber();
  }

  @Test
  void theWatchReadsTheRecordingByOneGatewayAndTheSourcesCommandSeesBoth() throws Exception {
    Path plan = plan();
    ProcessBuilder builder =
        ChildJava.running(
            "stillwatch.station.Main", List.of("watch", "--demo", "--by", "opcua", "--http", "0"));
    builder.command().addAll(1, List.of("-Xmx512m", "-Dstillwatch.home=" + home));
    try (WatchProcess watch = WatchProcess.of(builder).listening()) {
      JsonNode state = watch.state(DemoByGatewaysTest::says);
      assertThat(state.path("mode").asText()).isEqualTo("drill leak.csv.gz by opcua");
      assertThat(state.path("exercise").asBoolean()).isTrue();
      assertThat(state.path("sources").path(0).path("name").asText()).isEqualTo("opcua");
      double kPa = state.path("gauges").path(0).path("value").asDouble() * 1000;
      assertThat(recorded()).anySatisfy(is -> assertThat(kPa).isCloseTo(is, within(1e-6)));
      assertThat(sources(plan))
          .containsPattern("modbus: connected\n +PT-1 +4[0-9.]+ kPa +good ")
          .containsPattern("opcua: connected\n +PT-1 +4[0-9.]+ kPa +good ")
          .contains("offers: nsu=urn:example:larkspur;s=cap.port")
          .doesNotContain("says nothing", "fault");
      try (Browser page = Browser.open()) {
        page.get(watch.url("/"));
        page.says("#sources", "opcua: connected, ");
      }
    }
  }

  private static String sources(Path plan) {
    PrintStream before = System.out;
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    System.setOut(new PrintStream(bytes, true, StandardCharsets.UTF_8));
    try {
      int exit = Main.run("sources", "--plan", plan.toString(), "--nodes", "--for", "120");
      String said = bytes.toString(StandardCharsets.UTF_8);
      assertThat(exit).as(said).isZero();
      return said;
    } finally {
      System.setOut(before);
    }
  }
}
