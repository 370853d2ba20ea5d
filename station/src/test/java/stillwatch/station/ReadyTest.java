package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.station.broker.EmbeddedBroker;
import stillwatch.station.option.PlanOption;

/** The command that says what is open before the first step. */
class ReadyTest {
  private static final Path PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml");
  private static final Instant START = Instant.parse("2026-03-02T06:00:00Z");
  private static final List<String> TICKS =
      List.of(
          "observation: readiness; clear; A. Berg; skimming: two boats",
          "observation: readiness; clear; T. Moen; drill",
          "observation: readiness; clear; K. Lund; limits",
          "observation: camera; clear; vehicle crew; nothing seen");

  @TempDir Path folder;

  private record Said(int exit, String text) {}

  private static Said ready(String... more) {
    List<String> arguments = new ArrayList<>(List.of("ready", "--plan", PLAN.toString()));
    arguments.addAll(List.of(more));
    PrintStream before = System.out;
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    System.setOut(new PrintStream(bytes, true, StandardCharsets.UTF_8));
    try {
      return new Said(
          Main.run(arguments.toArray(String[]::new)), bytes.toString(StandardCharsets.UTF_8));
    } finally {
      System.setOut(before);
    }
  }

  /** A minute of all gauges at rest, and these entries in its first seconds. */
  private Path recording(List<String> entries) throws IOException {
    StringBuilder csv =
        new StringBuilder("time,received,PT-1,PT-2,PA-1,TT-1,HY-1,HY-2,TI-1,operation\n");
    for (int s = 0; s < 60; s++) {
      csv.append(START.plusSeconds(s))
          .append(",,21158.%d,21152.%d,14211.%d,50.%d,92,91,0.3,".formatted(s, s, s % 7, s % 3))
          .append(s < entries.size() ? entries.get(s) : "")
          .append('\n');
    }
    return Files.writeString(folder.resolve("before.csv"), csv);
  }

  @Test
  void itExitsWithOneWhileAnythingIsOpenAndSaysWhatFirst() throws IOException {
    Said said = ready(recording(TICKS.subList(0, 2)).toString());
    assertThat(said.exit()).isEqualTo(1);
    assertThat(said.text())
        .startsWith("Larkspur-2, plan A3: 2 of 7 conditions of the plan's readiness open")
        .contains("OPEN  limits: bands and ceiling are agreed (owner: well engineer)")
        .contains("      no camera pass is logged")
        .contains("      ticked by A. Berg at 2026-03-02T06:00:00Z (two boats)")
        .contains("decided by the people in charge, not by this list", "operates no valve");
    assertThat(said.text().lastIndexOf("OPEN ")).isLessThan(said.text().indexOf("met "));
  }

  @Test
  void itExitsWithZeroOnceAllIsMet() throws IOException {
    Said said = ready(recording(TICKS).toString());
    assertThat(said.text()).contains("every condition of the plan's readiness is met");
    assertThat(said.exit()).isZero();
  }

  @Test
  void withoutALogOnlyThePlanIsJudged() throws IOException {
    Said said = ready("--format", "ndjson");
    assertThat(said.exit()).isEqualTo(1);
    List<String> met = new ArrayList<>();
    for (String line : said.text().lines().toList()) {
      JsonNode condition = new ObjectMapper().readTree(line);
      assertThat(condition.path("owner").asText()).isNotEmpty();
      if (condition.path("met").asBoolean()) {
        met.add(condition.path("known-by").asText());
      }
    }
    assertThat(met).containsExactly("twins", "facts");
    assertThat(ready().text()).contains("No log was given");
  }

  /** One log: as a recording, on a running broker, and in the folder that is left of a watch. */
  @Test
  @Timeout(value = 300, unit = TimeUnit.SECONDS)
  void theLogOfABrokerSaysWhatItsRecordingSays() throws Exception {
    Path recording = recording(TICKS.subList(0, 3));
    Said expected = ready(recording.toString());
    assertThat(expected.text()).contains("1 of 7", "all 7 gauges deliver readings");
    Path data = folder.resolve("data");
    try (EmbeddedBroker broker = EmbeddedBroker.start(data.resolve("broker")).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
      bus.createTopics(2, 1);
      write(bus, recording);
      assertThat(ready("--broker", broker.bootstrap())).isEqualTo(expected);
    }
    assertThat(ready("--data", data.toString())).isEqualTo(expected);
  }

  private static void write(Bus bus, Path recording) throws Exception {
    RecordingLayout layout = PlanOption.load(PLAN).plan().recordings();
    TelemetryCodec codec = new TelemetryCodec();
    try (TelemetrySource feed = RecordingFeed.open(recording, layout, new Problems());
        TopicWriter writer = bus.writer(Topics.TELEMETRY)) {
      for (Telemetry entry = feed.next(); entry != null; entry = feed.next()) {
        writer.append(codec.encode(entry)).get();
      }
    }
  }

  @Test
  void whatCannotBeJudgedIsToldInOneLine() throws Exception {
    String text = Files.readString(PLAN);
    int from = text.indexOf("readiness:");
    Path without =
        Files.writeString(
            folder.resolve("plan.yaml"),
            text.substring(0, from) + text.substring(text.indexOf("reopening:", from)));
    assertThat(Outcome.inside("ready", "--plan", without.toString()).refusal())
        .contains("the plan has no 'readiness:'");
    String plan = PLAN.toString();
    String data = folder.toString();
    assertThat(Outcome.inside("ready", "--plan", plan, "--data", data).refusal())
        .contains("there is no watch's log here");
    assertThat(Outcome.inside("ready", "--plan", plan, "--data", data, "x.csv").refusal())
        .contains("give one log");
    assertThat(Outcome.inside("ready", "--plan", plan, "x.csv").refusal()).contains("x.csv");
  }
}
