package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.File;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.station.broker.EmbeddedBroker;

/** The spread-out form: what docker-compose.yml starts, as processes here. */
class SpreadOutTest {
  private static final Path COMPOSE = Path.of("/usr/bin/docker-compose");
  private static final String PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml").toString();

  @TempDir Path data;

  /** Twins a second at a time up to now; the level of each second is given from the oldest. */
  private static String seconds(Instant until, List<Double> levelsKPa) {
    StringBuilder lines = new StringBuilder();
    for (int i = 0; i < levelsKPa.size(); i++) {
      double level = levelsKPa.get(i);
      lines.append(
          String.format(
              Locale.ROOT,
              "{\"well\":\"larkspur-2\",\"at\":\"%s\",\"values\":{\"PT-1\":%.2f,\"PT-2\":%.2f}}%n",
              until.minusSeconds(levelsKPa.size() - 1 - i),
              level + i % 3 * 0.01,
              level - 6 - i % 3 * 0.01));
    }
    return lines.toString();
  }

  private static List<Double> levels(int count, double level) {
    return new ArrayList<>(Collections.nCopies(count, level));
  }

  private static List<String> rules(JsonNode state) {
    List<String> rules = new ArrayList<>();
    state.path("alarms").forEach(a -> rules.add(a.path("rule").asText()));
    return rules;
  }

  @Test
  @Timeout(value = 240, unit = TimeUnit.SECONDS)
  void anAlarmGoesThroughAllProcessesAndTheDeathOfARulesProcessDoublesNone() throws Exception {
    try (EmbeddedBroker broker = EmbeddedBroker.start(data.resolve("broker")).get();
        EmbeddedPostgres postgres = EmbeddedPostgres.start()) {
      String at = broker.bootstrap();
      try (WatchProcess intake =
              WatchProcess.start(
                  "intake",
                  "--open",
                  "--plan",
                  PLAN,
                  "--broker",
                  at,
                  "--spool",
                  data.resolve("spool").toString(),
                  "--http",
                  "0");
          WatchProcess first =
              WatchProcess.start("rules", "--plan", PLAN, "--broker", at, "--http", "0");
          WatchProcess alerts =
              WatchProcess.start(
                  Map.of("STILLWATCH_JOURNAL_USER", "postgres"),
                  "alerts",
                  "--open",
                  "--plan",
                  PLAN,
                  "--broker",
                  at,
                  "--http",
                  "0",
                  "--journal",
                  postgres.getJdbcUrl("postgres", "postgres"))) {
        intake.listening();
        alerts.listening();
        first.listening();
        List<Double> falling = levels(180, 46_900);
        falling.addAll(levels(30, 46_500)); // sudden-drop takes 15 to 20 s at one reading a second
        Instant now = Instant.now();
        String answer =
            intake.post("/telemetry", "application/x-ndjson", seconds(now, falling)).body();
        assertThat(answer).contains("\"taken\":210", "\"refused\":[]");
        alerts.state(s -> rules(s).contains("sudden-drop"));

        first.kill();
        try (WatchProcess second =
            WatchProcess.start("rules", "--plan", PLAN, "--broker", at, "--http", "0")) {
          second.listening();
          intake.post(
              "/telemetry",
              "application/x-ndjson",
              seconds(now.plusSeconds(60), levels(60, 52_500)));
          JsonNode state = alerts.state(s -> rules(s).contains("ceiling-crossed"));
          assertThat(rules(state)).doesNotHaveDuplicates();
        }
      }
    }
  }

  /**
   * The compose file against the schema of the Compose specification that Debian's docker-compose
   * brings.
   */
  @Test
  void theComposeFileKeepsTheComposeSpecification() throws Exception {
    assumeTrue(
        Files.isExecutable(COMPOSE),
        "skipped: docker-compose is not installed; apt-get install docker-compose");
    ProcessBuilder check =
        new ProcessBuilder(COMPOSE.toString(), "-f", "docker-compose.yml", "config")
            .directory(new File(".."))
            .redirectErrorStream(true);
    check.environment().put("STILLWATCH_JOURNAL_PASSWORD", "only-for-this-check");
    check.environment().put("STILLWATCH_TELEMETRY_TOKENS", "./tokens");
    Process process = check.start();
    String out = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertThat(process.waitFor()).as(out).isZero();
    assertThat(out).contains("intake", "rules", "alerts", "postgres", "kafka", "healthcheck");
  }

  @Test
  void noSecretStandsInTheComposeFile() throws Exception {
    assertThat(Files.readAllLines(Path.of("../docker-compose.yml")))
        .filteredOn(line -> line.matches(".*PASSWORD\\S*: .*"))
        .hasSize(2)
        .allMatch(line -> line.contains("${STILLWATCH_JOURNAL_PASSWORD:?"));
  }
}
