package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.station.broker.EmbeddedBroker;
import stillwatch.station.run.KeptLog;

/** The log of a watch that ran, written out and replayed. */
@Timeout(300)
class LogExportTest {
  @TempDir Path folder;

  private record Said(int exit, List<String> out) {}

  private static Said run(String... arguments) {
    PrintStream before = System.out;
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    System.setOut(new PrintStream(out, true, StandardCharsets.UTF_8));
    try {
      int exit = Main.run(arguments);
      System.out.flush();
      return new Said(exit, out.toString(StandardCharsets.UTF_8).lines().toList());
    } finally {
      System.setOut(before);
    }
  }

  private static String plan() {
    return WatchProcess.LARKSPUR.resolve("plan.yaml").toString();
  }

  @Test
  void whatAWatchLoggedReplayedSaysTheSameFindings() throws Exception {
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
      String at = broker.bootstrap();
      try (WatchProcess watch =
          WatchProcess.drill(
                  folder.resolve("data"),
                  "leak.csv.gz",
                  "10000",
                  "--open",
                  "--broker",
                  at,
                  "--http",
                  "0")
              .listening()) {
        watch.state(s -> s.path("alarms").findValuesAsText("rule").contains("sudden-drop"));
        watch.act(
            "/api/decisions", "{\"choice\":\"continue\",\"by\":\"the deciders\",\"why\":\"<&>\"}");
        watch.state(s -> s.path("decisions").size() > 0);
        watch.stop();
      }
      Path file = folder.resolve("live.ndjson");
      assertThat(
              Main.run("log", "export", "--plan", plan(), "--broker", at, "--out", file.toString()))
          .isZero();
      List<String> live = new ArrayList<>();
      KeptLog.read(bus, Topics.ALERTS, m -> told(m, live));
      List<String> again = replayed(file);
      assertThat(live).isNotEmpty().anyMatch(l -> l.contains("sudden-drop"));
      assertThat(again.subList(0, live.size())).isEqualTo(live);
      part(at, Files.readAllLines(file));
    }
  }

  private static List<String> replayed(Path file) {
    Said said = run("replay", "--plan", plan(), "--format", "ndjson", file.toString());
    assertThat(said.exit()).isZero();
    return said.out().stream()
        .map(l -> told(FindingCodec.decode(l.getBytes(StandardCharsets.UTF_8))))
        .toList();
  }

  private static void told(Message m, List<String> into) {
    into.add(told(FindingCodec.decode(m.value())));
  }

  private static String told(Finding f) {
    return f.returned() + " " + f.id() + " " + f.rule();
  }

  /** What people did is in it too, and a part of it is packed where it is named so. */
  private void part(String broker, List<String> whole) throws Exception {
    assertThat(whole).anyMatch(l -> l.contains("\"decision\":\"continue\""));
    assertThat(whole).anyMatch(l -> l.contains("\"operation\":\"closure-step\""));
    String line = whole.get(whole.size() / 2);
    Instant from = Instant.parse(line.replaceAll(".*\"received\":\"([^\"]*)\".*", "$1"));
    String to = from.plus(Duration.ofMinutes(1)).toString();
    Path file = folder.resolve("part.ndjson.gz");
    List<String> arguments =
        List.of("log", "export", "--plan", plan(), "--broker", broker, "--from", from.toString());
    List<String> more = List.of("--to", to, "--out", file.toString());
    assertThat(Main.run(Stream.of(arguments, more).flatMap(List::stream).toArray(String[]::new)))
        .isZero();
    try (InputStream in = new GZIPInputStream(Files.newInputStream(file))) {
      List<String> part = new String(in.readAllBytes(), StandardCharsets.UTF_8).lines().toList();
      assertThat(part).contains(line).hasSizeBetween(60, whole.size() / 2);
      assertThat(whole).containsAll(part);
    }
    replayed(file);
  }

  @Test
  void whatIsWrongIsToldInOneSentence() throws Exception {
    assertThat(
            Outcome.inside("log", "export", "--plan", plan(), "--from", "noon", "--data", "none")
                .refusal())
        .contains("--from: 'noon' is no time");
    Path file = Files.writeString(folder.resolve("other.ndjson"), "{\"well\":\"other\"}\n[]\nx\n");
    Outcome wrong = Outcome.inside("replay", "--plan", plan(), file.toString());
    assertThat(wrong.exit()).isEqualTo(2);
    assertThat(wrong.lines()).anyMatch(l -> l.contains("no line could be read"));
    assertThat(wrong.lines()).anyMatch(l -> l.startsWith("3 lines that say nothing"));
  }
}
