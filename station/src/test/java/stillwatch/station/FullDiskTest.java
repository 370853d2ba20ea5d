package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.channels.FileChannel;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.station.broker.EmbeddedBroker;

/** A disk that is filled to the last byte under a process, and freed again. */
@Timeout(300)
class FullDiskTest {
  private static final String PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml").toString();

  @TempDir Path folder;

  private final List<Instant> accepted = new ArrayList<>();
  private Instant at = Instant.now().truncatedTo(ChronoUnit.SECONDS).minusSeconds(3600);

  private HttpResponse<String> post(WatchProcess to) throws Exception {
    at = at.plusSeconds(1);
    HttpResponse<String> answer =
        to.post(
            "/telemetry",
            "application/x-ndjson",
            "{\"well\":\"larkspur-2\",\"at\":\"%s\",\"gauge\":\"PT-1\",\"value\":46900}"
                .formatted(at));
    if (answer.statusCode() == 200) {
      accepted.add(at);
    }
    return answer;
  }

  /** Goes on posting until it answers so. */
  private String postUntil(WatchProcess to, int status) throws Exception {
    HttpResponse<String> answer = post(to);
    while (answer.statusCode() != status) {
      assertThat(to.endsWithin(100)).as("ended by itself").isFalse();
      answer = post(to);
    }
    return answer.body();
  }

  private List<Instant> logged(Bus bus) {
    return IntakeTest.log(bus).stream()
        .filter(Frame.class::isInstance)
        .map(t -> Instant.ofEpochMilli(t.atMs()))
        .toList();
  }

  private static boolean has(JsonNode state, String rule) {
    return state.path("alarms").findValuesAsText("rule").contains(rule);
  }

  /** The watch's broker ends by itself after it; until then it has its folder. */
  private static void awaitEnd(Path broker) throws IOException {
    try (FileChannel lock = FileChannel.open(broker.resolve(".lock"), StandardOpenOption.WRITE)) {
      lock.lock().release();
    } catch (NoSuchFileException e) {
      // it has ended, and has taken its lock away
    }
  }

  @Test
  void theWatchStaysUpSaysWhatItCannotKeepAndGoesOnByItself() throws Exception {
    Path data = folder.resolve("disk/data");
    try (SmallDisk disk = SmallDisk.mount(folder.resolve("disk"))) {
      try (WatchProcess watch =
          WatchProcess.start(
                  "watch", "--open", "--plan", PLAN, "--data", data.toString(), "--http", "0")
              .listening()) {
        for (int i = 0; i < 10; i++) {
          postUntil(watch, 200);
        }
        watch.healthSays("\"watching\":true");

        disk.fill();
        assertThat(postUntil(watch, 503)).contains("is full", "send it again");
        watch.healthSays("is full");
        assertThat(watch.text("/metrics")).contains("stillwatch_disk_full 1");
        JsonNode low = watch.state(s -> has(s, "disk-low"));
        assertThat(low.path("blind").toString()).contains("is full");

        disk.fill(); // and the reserve too
        watch.healthSays("The broker does not work");
        assertThat(watch.text("/")).contains("<html"); // the journal may be closed by now
        assertThat(post(watch).statusCode()).isEqualTo(503);

        disk.free();
        // readings go on coming: one alone is too old by the time a busy machine's broker is back
        do {
          postUntil(watch, 200);
          assertThat(watch.endsWithin(200)).as("ended by itself").isFalse();
        } while (!watch.text("/health").contains("\"watching\":true"));
        postUntil(watch, 200);
        JsonNode again = watch.state(s -> s.path("alarms").size() > 0);
        watch.act(
            "/api/alarms/" + again.path("alarms").path(0).path("id").asText() + "/acknowledge",
            "{}");
        watch.stop();
      }
      awaitEnd(data.resolve("broker"));
      try (EmbeddedBroker broker = EmbeddedBroker.start(data.resolve("broker")).join();
          Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
        assertThat(logged(bus)).containsAll(accepted).doesNotHaveDuplicates();
      }
    }
  }

  @Test
  void theIntakeRefusesWhatItCannotKeepAndGoesOnByItself() throws Exception {
    try (SmallDisk disk = SmallDisk.mount(folder.resolve("disk"));
        EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).join();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
      bus.createTopics(1, 1);
      try (WatchProcess intake =
          WatchProcess.start(
                  "intake",
                  "--open",
                  "--plan",
                  PLAN,
                  "--broker",
                  broker.bootstrap(),
                  "--spool",
                  folder.resolve("disk/spool").toString(),
                  "--http",
                  "0")
              .listening()) {
        for (int i = 0; i < 10; i++) {
          postUntil(intake, 200);
        }
        disk.fill();
        assertThat(postUntil(intake, 503)).contains("is full");
        disk.fill();
        intake.healthSays("is full");

        disk.free();
        postUntil(intake, 200);
        intake.healthSays("works");
        while (logged(bus).size() < accepted.size()) {
          assertThat(intake.endsWithin(200)).isFalse();
        }
      }
      assertThat(logged(bus)).containsAll(accepted).doesNotHaveDuplicates();
    }
  }
}
