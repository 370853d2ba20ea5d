package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The alerting rules and the dashboard of the documents, beside what a running watch exports. */
@Timeout(180)
class MonitoringTest {
  private static final Path DOCS = Path.of("../docs/monitoring");
  private static final Pattern METRIC = Pattern.compile("\\bstillwatch_[a-z0-9_]+");
  private static final Pattern LABEL =
      Pattern.compile("\\{\\{ ?\\$labels\\.([a-z]+) ?}}|^.*\\{\\{([a-z]+)}}$");

  @TempDir Path folder;

  /** What asks for metrics, and the text that shows their labels. */
  private record Asking(String expression, String text) {}

  private static List<Asking> rules() throws Exception {
    List<Asking> all = new ArrayList<>();
    JsonNode file =
        new ObjectMapper(new YAMLFactory()).readTree(DOCS.resolve("alerts.yaml").toFile());
    for (JsonNode group : file.path("groups")) {
      for (JsonNode rule : group.path("rules")) {
        assertThat(rule.path("alert").asText()).matches("Stillwatch[A-Za-z]+");
        assertThat(rule.path("labels").path("severity").asText()).isIn("critical", "warning");
        assertThat(rule.path("for").asText("1m")).matches("[0-9]+[sm]");
        all.add(
            new Asking(
                rule.path("expr").asText(), rule.path("annotations").path("summary").asText()));
      }
    }
    return all;
  }

  private static List<Asking> panels() throws Exception {
    List<Asking> all = new ArrayList<>();
    JsonNode file = new ObjectMapper().readTree(DOCS.resolve("dashboard.json").toFile());
    for (JsonNode panel : file.path("panels")) {
      for (JsonNode target : panel.path("targets")) {
        all.add(new Asking(target.path("expr").asText(), target.path("legendFormat").asText()));
      }
    }
    return all;
  }

  @Test
  void everyMetricThatTheyNameIsOneThatARunningWatchHas() throws Exception {
    Path plan =
        Files.writeString(
            folder.resolve("plan.yaml"),
            Files.readString(WatchProcess.LARKSPUR.resolve("plan.yaml"))
                + """

                telemetry: {open: true}
                sources: {files: [{name: logger, folder: %s}]}
                routes: {webhooks: [{name: phone, url: "http://127.0.0.1:1/"}]}
                """
                    .formatted(folder));
    List<Asking> asking = new ArrayList<>(rules());
    asking.addAll(panels());
    assertThat(asking).hasSizeGreaterThan(20);
    try (OtlpReceiver receiver = new OtlpReceiver();
        WatchProcess watch =
            WatchProcess.start(
                    Map.of("OTEL_METRIC_EXPORT_INTERVAL", "1000"),
                    "watch",
                    "--plan",
                    plan.toString(),
                    "--data",
                    folder.resolve("data").toString(),
                    "--open",
                    "--otlp",
                    receiver.url(),
                    "--http",
                    "0")
                .listening()) {
      assertThat(watch.text("/metrics"))
          .contains("stillwatch_source_connected{source=\"POST /telemetry\"} NaN");
      assertThat(watch.post("/telemetry", "application/x-ndjson", "no line").statusCode())
          .isEqualTo(400);
      assertThat(watch.text("/metrics"))
          .contains("stillwatch_source_connected{source=\"POST /telemetry\"} 1")
          .contains("stillwatch_source_refused{source=\"POST /telemetry\"} 1");
      JsonNode sources = new ObjectMapper().readTree(watch.text("/health")).path("sources");
      assertThat(sources)
          .extracting(s -> s.path("name").asText())
          .containsExactly("logger", "POST /telemetry");
      assertThat(sources.path(1).path("refused").toString()).isEqualTo("{\"not-json\":1}");
      String metrics = watch.text("/metrics");
      for (Asking a : asking) {
        List<String> named =
            METRIC.matcher(a.expression()).results().map(MatchResult::group).toList();
        assertThat(named.isEmpty()).as(a.expression()).isEqualTo(a.expression().startsWith("up{"));
        assertThat(named).allMatch(n -> has(metrics, n, ""));
        LABEL
            .matcher(a.text())
            .results()
            .map(m -> m.group(1) == null ? m.group(2) : m.group(1))
            .forEach(label -> assertThat(named).allMatch(n -> has(metrics, n, label)));
      }
      List<String> shown =
          Pattern.compile("(?m)^" + METRIC.pattern().substring(2))
              .matcher(metrics)
              .results()
              .map(MatchResult::group)
              .toList();
      assertThat(shown).isNotEmpty();
      Intaking.until(
          "the receiver is told each of them",
          () -> {
            Set<String> told = receiver.metrics("service.name", "stillwatch");
            return shown.stream().allMatch(n -> told.stream().anyMatch(n::startsWith));
          });
    }
  }

  private static boolean has(String metrics, String name, String label) {
    String rest = label.isEmpty() ? "[{ ]" : "\\{[^}]*" + label + "=\"";
    return Pattern.compile("(?m)^" + name + rest).matcher(metrics).find();
  }
}
