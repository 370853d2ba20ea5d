package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.alerts.room.Room;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.entrance.Limits;
import stillwatch.ingest.intake.Door;
import stillwatch.ingest.intake.Intake;
import stillwatch.ingest.intake.IntakeWell;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.Senders;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.station.broker.EmbeddedBroker;

/** Lines posted to the door, found on a real broker. */
class IntakeTest {
  private static final IntakeWell WELL =
      new IntakeWell(
          "larkspur-2",
          Map.of(
              "PT-1",
              new IntakeWell.Gauge(Kind.PRESSURE, "kPa"),
              "TT-1",
              new IntakeWell.Gauge(Kind.TEMPERATURE, "Cel")),
          Duration.ofMinutes(2));
  private static final String BODY =
      """
      {"well":"larkspur-2","at":"2026-03-08T06:00:00Z","values":{"PT-1":46.9,"TT-1":4.5},"units":{"PT-1":"MPa"}}
      {"well":"larkspur-2","at":"2026-03-08T07:00:01+01:00","gauge":"TT-1","value":40.1,"unit":"[degF]","quality":"uncertain"}
      {"well":"larkspur-2","at":"2026-03-08T06:00:02Z","values":{"PT-1":46901,"PT-9":1}}
      {"well":"larkspur-2","at":"2026-03-08T06:00:03Z","gauge":"PT-1","value":1,"unit":"furlong"}
      {"well":"larkspur-2","at":"noon","gauge":"PT-1","value":1}
      not json
      """;

  private static final String LATER =
      """
      {"well":"larkspur-2","at":"2026-03-09T06:00:09Z","gauge":"PT-1","value":4}
      {"well":"larkspur-2","at":"2026-03-08T06:00:09Z","gauge":"PT-1","value":5}
      """;

  @TempDir Path data;

  private static Clock at(String time) {
    return Clock.fixed(Instant.parse(time), ZoneOffset.UTC);
  }

  private static List<Message> all(Bus bus, String topic) {
    List<Message> all = new ArrayList<>();
    try (TopicReader reader = bus.readerOfAll(topic, Assignment.FROM_THE_START)) {
      Map<Integer, Long> ends = reader.endOffsets();
      while (!reader.passed(ends)) {
        all.addAll(reader.poll(Duration.ofMillis(100)));
      }
    }
    return all;
  }

  /** Everything a broker's log holds. */
  static List<Telemetry> log(Bus bus) {
    TelemetryCodec codec = new TelemetryCodec();
    return all(bus, Topics.TELEMETRY).stream().map(codec::decode).toList();
  }

  private static Intake intake(Bus bus, Clock clock, SimpleMeterRegistry meters) {
    List<IntakeWell> wells = List.of(WELL);
    return new Intake(
        wells,
        bus.writer(Topics.TELEMETRY),
        bus.writer(Topics.REJECTS),
        Intake.newestMs(bus, wells),
        clock,
        meters);
  }

  private static JsonNode post(Bus bus, Intake intake, String body) throws Exception {
    try (Door door =
        new Door(
            Room.loopback(0),
            Limits.USUAL,
            new Reception(intake, Senders.everybody()),
            () -> "",
            () -> bus.fault(Duration.ofSeconds(1)))) {
      HttpRequest request =
          HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + door.port() + "/telemetry"))
              .POST(HttpRequest.BodyPublishers.ofString(body))
              .build();
      HttpResponse<byte[]> answer =
          HttpClient.newHttpClient().send(request, HttpResponse.BodyHandlers.ofByteArray());
      assertThat(answer.statusCode()).isEqualTo(200);
      return new ObjectMapper().readTree(answer.body());
    }
  }

  @Test
  @Timeout(value = 120, unit = TimeUnit.SECONDS)
  void goodReadingsAreInTheLogBadOnesAmongTheRejectsAndTimeNeverRunsBack() throws Exception {
    try (EmbeddedBroker broker = EmbeddedBroker.start(data).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
      bus.createTopics(1, 1);
      SimpleMeterRegistry meters = new SimpleMeterRegistry();
      JsonNode answer;
      try (Intake intake = intake(bus, at("2026-03-08T07:00:05Z"), meters)) {
        answer = post(bus, intake, BODY);
      }
      JsonNode later;
      try (Intake anHourBack = intake(bus, at("2026-03-08T06:00:05Z"), meters)) {
        later = post(bus, anHourBack, LATER);
      }

      assertThat(answer.path("taken").asInt()).isEqualTo(3);
      assertThat(answer.path("refused"))
          .extracting(r -> r.path("line").asInt() + " " + r.path("reason").asText())
          .containsExactly("3 unknown-gauge", "4 unknown-unit", "5 bad-time", "6 not-json");
      assertThat(later.path("taken").asInt()).isEqualTo(1);
      assertThat(later.path("refused"))
          .extracting(r -> r.path("line").asInt() + " " + r.path("reason").asText())
          .containsExactly("1 stamped-ahead");
      List<Telemetry> log = log(bus);
      assertThat(log).extracting(Telemetry::receivedMs).isSorted();
      assertThat(log).hasAtLeastOneElementOfType(Pulse.class);
      // 46.9 MPa; 40.1 degrees Fahrenheit are 4.5 degrees Celsius by definition, (40.1 - 32) / 1.8
      assertThat(log)
          .filteredOn(Frame.class::isInstance)
          .extracting(f -> ((Frame) f).values())
          .usingRecursiveComparison()
          .withComparatorForType(
              (a, b) -> a.equals(b) || Math.abs(a - b) < 1e-9 ? 0 : 1, Double.class)
          .isEqualTo(
              List.of(
                  new double[] {46_900, 4.5},
                  new double[] {4.5},
                  new double[] {46_901},
                  new double[] {Double.NaN}, // stamped a day ahead: it came, and says nothing
                  new double[] {5}));
      assertThat(all(bus, Topics.REJECTS))
          .extracting(m -> new String(m.value(), StandardCharsets.UTF_8))
          .hasSize(5)
          .contains("not json");
      assertThat(all(bus, Topics.REJECTS))
          .allSatisfy(m -> assertThat(m.headers()).containsKeys("why", "source"));
      assertThat(meters.counter("stillwatch.intake.taken").count()).isEqualTo(4);
    }
  }
}
