package stillwatch.ingest.intake;

import static org.assertj.core.api.Assertions.assertThat;

import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.unit.Kind;

/** How the source is that bodies of lines come from. */
class ReceptionTest {
  private static final Instant NOW = Instant.parse("2026-03-08T06:00:05Z");
  private static final String READING =
      """
      {"well":"larkspur-2","at":"2026-03-08T06:00:00Z","gauge":"PT-1","value":46900}
      """;

  private Optional<String> full = Optional.empty();
  private boolean acknowledges = true;
  private final Intake intake =
      new Intake(
          List.of(
              new IntakeWell(
                  "larkspur-2",
                  Map.of("PT-1", new IntakeWell.Gauge(Kind.PRESSURE, "kPa")),
                  Duration.ofMinutes(2))),
          new Log(),
          new Log(),
          0,
          Clock.fixed(NOW, ZoneOffset.UTC),
          new SimpleMeterRegistry());
  private final Reception reception = new Reception(intake, Senders.everybody(), () -> full);

  private final class Log implements TopicWriter {
    @Override
    public CompletableFuture<Void> append(Message message) {
      return acknowledges
          ? CompletableFuture.completedFuture(null)
          : CompletableFuture.failedFuture(new IOException("no broker"));
    }

    @Override
    public void flush() {
      // nothing waits
    }

    @Override
    public void close() {
      // nothing is open
    }
  }

  @AfterEach
  void close() {
    intake.close();
  }

  private int post(String body) throws IOException {
    return reception
        .take(
            new ByteArrayInputStream(body.getBytes(StandardCharsets.UTF_8)),
            new Sender("buoy", false))
        .status();
  }

  private SourceHealth.State state() {
    return reception.state().orElseThrow();
  }

  @Test
  void isNoSourceWhileNobodyHasSent() throws Exception {
    assertThat(reception.state()).isEmpty();
    assertThat(post(READING)).isEqualTo(200);
    assertThat(state().name()).isEqualTo("POST /telemetry");
    assertThat(state().connected()).isTrue();
    assertThat(state().fault()).isEmpty();
    assertThat(Instant.ofEpochMilli(state().sinceMs())).isAfterOrEqualTo(NOW);
    assertThat(Instant.ofEpochMilli(state().lastMs())).isAfterOrEqualTo(NOW);
  }

  @Test
  void countsWhatItTookAndWhatItRefusedByReason() throws Exception {
    post(READING + "not json\n\n" + READING.replace("PT-1", "PT-9") + "nor this\n");
    assertThat(state().taken()).isEqualTo(1);
    assertThat(state().refused()).isEqualTo(Map.of("not-json", 2L, "unknown-gauge", 1L));
  }

  @Test
  void isLostWhileTheDiskIsFull() throws Exception {
    post(READING);
    full = Optional.of("The disk is full.");
    assertThat(post(READING)).isEqualTo(503);
    assertThat(state().connected()).isFalse();
    assertThat(state().fault()).isEqualTo("The disk is full.");
    full = Optional.empty();
    post(READING);
    assertThat(state().connected()).isTrue();
    assertThat(state().reconnects()).isEqualTo(1);
    assertThat(state().taken()).isEqualTo(2);
  }

  @Test
  void isLostWhileTheLogDoesNotAcknowledge() throws Exception {
    acknowledges = false;
    assertThat(post(READING)).isEqualTo(503);
    assertThat(state().connected()).isFalse();
    assertThat(state().fault()).contains("no broker");
  }
}
