package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.door.FilesPlan;
import stillwatch.ingest.door.MqttPlan;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.rules.plan.Plan;
import stillwatch.station.option.PlanOption;

/** What plans say of sources and of files: the examples of the documents, and mistakes in them. */
class SourcesPlanTest {
  @TempDir Path folder;

  private static String example() throws Exception {
    return example("adapters.md", "yaml", "sources:\n  mqtt:");
  }

  /** The example that begins so. */
  private static String example(String document, String language, String begins) throws Exception {
    String doc = Files.readString(Path.of("../docs").resolve(document));
    String fence = "```" + language + "\n";
    int from = doc.indexOf(fence + begins) + fence.length();
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
    refuses(
        "password-file:",
        "key-file: /x\n      password-file:",
        "source 'gateway': certificate-file and key-file go together");
    refuses("gauge: TT-1}", "gauge: TT-9}", "source 'gateway': there is no gauge 'TT-9'");
    refuses("unit: MPa", "unit: Cel", "source 'gateway', gauge 'PT-1'");
    refuses("cap/+/state", "cap/+x/state", "is no topic filter");
    refuses("value: /pressure/value", "value: pressure", "is no JSON pointer");
  }

  @Test
  void aMistakeAboutAnEdgeNodeNamesTheSource() throws Exception {
    String platform = example("adapters.md", "yaml", "sources:\n  mqtt:\n    - name: platform");
    MqttPlan mqtt = (MqttPlan) load(platform).sources().get(0).way();
    assertThat(mqtt.topics().get(0).gauges()).containsEntry("cap/starboard", "PT-2");
    refuses(platform, "/+/gateway-1/#", "/NDATA/+", "does not stand for an edge node");
    refuses(platform, "unit: MPa", "time: /at", "source 'platform': with form sparkplug");
    refuses(platform, "cap/port: PT-1", "cap/port: PT-9", "there is no gauge 'PT-9'");
  }

  @Test
  void aMistakeAboutFilesNamesWhereItIs() throws Exception {
    String files = example("adapters.md", "yaml", "sources:\n  files:");
    refuses(files, "\"cap-*.csv*\"", "\"cap-[.csv\"", "is no pattern of file names");
    refuses(files, "PT-2: {", "PT-9: {", "there is no gauge 'PT-9'");
    refuses(files, "every: 1 s", "every: 1 ms", "source 'logger': look at most every 0.1 s");
    refuses(files, "unit: MPa}", "unit: Cel}", "Cel");
  }

  @Test
  void aMistakeAboutADatabaseNamesTheSource() throws Exception {
    String sql = example("adapters.md", "yaml", "sources:\n  sql:");
    refuses(sql, "at >= ?", "at >= now()", "source 'historian': the query must have one ?");
    refuses(sql, " ORDER BY at", "", "source 'historian': the query must give its rows in the");
    refuses(sql, "verify-full", "disable&password=x", "a password stands in a file");
    refuses(sql, "look-back: 10 min", "look-back: 2 d", "look back at most 24 h");
    refuses(sql, "\"2026-03-08T06:00:00Z\"", "yesterday", "'yesterday' is no time");
    refuses(sql, "PT-2: {", "PT-9: {", "there is no gauge 'PT-9'");
  }

  @Test
  void aMistakeAboutATopicNamesTheSource() throws Exception {
    String kafka = example("adapters.md", "yaml", "sources:\n  kafka:");
    refuses(kafka, "CAP.P2: PT-2", "CAP.P2: PT-9", "source 'plant': there is no gauge 'PT-9'");
    refuses(kafka, "form: json", "form: number", "source 'plant': form json and 'value'");
    refuses(kafka, "value: /value", "value: value", "is no JSON pointer");
    refuses(kafka, "gauges: {CAP.P1: PT-1, CAP.P2: PT-2}", "gauge: PT-1", "'named-by' wants form");
    refuses(kafka, "start: newest", "start: oldest", "'oldest' is no time");
    refuses(kafka, "unit: bar", "unit: Cel", "source 'plant', gauge 'PT-1'");
  }

  @Test
  void aMistakeAboutLinesNamesTheSource() throws Exception {
    String lines = example("adapters.md", "yaml", "sources:\n  lines:");
    refuses(lines, "CAP2$\", gauge: PT-2", "CAP2$\", gauge: PT-9", "there is no gauge 'PT-9'");
    refuses(lines, "XDR,P,.*,CAP1$", "XDR,P,(", "source 'topside': 'XDR,P,(' is no pattern");
    refuses(lines, "connect:", "listen:", "say in 'from' from which addresses");
    refuses(lines, ":4001\" #", "\" #", "must look like");
    refuses(lines, ":4001\" #", ":99999\" #", "must be 1 to 65535");
    refuses(lines, "framing:", "device: /dev/ttyS0\n      framing:", "say one of 'connect'");
  }

  @Test
  void aMistakeInASourceOfAnotherArtifactIsToldWithItsLine() throws Exception {
    String modbus = example("adapters.md", "yaml", "sources:\n  modbus:");
    assertThat(load(modbus).sources()).extracting(SourcePlan::name).containsExactly("cap-logger");
    refuses(modbus, "register: 100", "register: 70000", "70000");
    refuses(modbus, "type: int16", "type: int17", "'int17' is not one of int16");
    refuses(modbus, "gauge: PT-1", "gauge: PT-9", "source 'cap-logger': there is no gauge 'PT-9'");
    refuses(modbus, "scale: 0.1", "skale: 0.1", "unknown key 'skale'; did you mean 'scale'");
    String opcua = example("adapters.md", "yaml", "sources:\n  opcua:");
    refuses(opcua, "ns=2;s=", "ns2s", "gauge 'TT-1': 'ns2srams.temperature' is no node id");
    refuses(opcua, "name: control", "nome: control", "the key 'name' is missing here");
  }

  @Test
  void aSourceOfFilesThatDoesNotSayHowTheyAreLaidOutTakesTheRecordingsLayout() throws Exception {
    Plan plan = load("sources: {files: [{name: logger, folder: /var/lib/logger}]}");
    FilesPlan files = (FilesPlan) plan.sources().get(0).way();
    assertThat(files.layout()).isEqualTo(plan.recordings());
    assertThat(files.names()).isEqualTo("*.csv*");
  }

  @Test
  void theExampleOfALongRecordingIsReadAsItStands() throws Exception {
    String demo = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    String own = demo.substring(demo.indexOf("\nrecordings:"));
    String after = own.indexOf("\n\n") < 0 ? "" : own.substring(own.indexOf("\n\n"));
    Path file = folder.resolve("plan.yaml");
    Files.writeString(
        file,
        demo.substring(0, demo.indexOf("\nrecordings:") + 1)
            + example("plan.md", "yaml", "recordings:")
            + after);
    Path csv = folder.resolve("long.csv");
    Files.writeString(csv, example("plan.md", "csv", "stamp;"));
    Problems problems = new Problems();
    try (RecordingFeed feed =
        RecordingFeed.open(csv, PlanOption.load(file).plan().recordings(), problems)) {
      Frame frame = (Frame) Objects.requireNonNull(feed.next());
      assertThat(Instant.ofEpochMilli(frame.atMs())).isEqualTo("2026-03-08T06:00:00Z");
      assertThat(frame.gauges().ids()).containsExactly("PT-1", "TT-1");
      assertThat(frame.values()).containsExactly(46_910, 4.5); // 469.1 bar
      assertThat(problems.report()).isEmpty();
    }
  }

  private void refuses(String example, String right, String wrong, String why) {
    assertThat(example).contains(right);
    assertThatThrownBy(() -> load(example.replace(right, wrong))).hasMessageContaining(why);
  }

  private void refuses(String right, String wrong, String why) {
    assertThatThrownBy(() -> load(example().replace(right, wrong))).hasMessageContaining(why);
  }
}
