package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.station.broker.EmbeddedBroker;

/** What is on the disk itself at one moment, without what the system has still in memory. */
@Timeout(300)
class PowerCutTest {
  private static final String PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml").toString();

  @TempDir Path folder;

  private static WatchProcess watch(Path data) throws IOException, InterruptedException {
    return WatchProcess.start(
            "watch", "--open", "--plan", PLAN, "--data", data.toString(), "--http", "0")
        .listening();
  }

  /** Tells these to stand still, so that nothing is half copied. */
  private static void standStill(List<ProcessHandle> processes)
      throws IOException, InterruptedException {
    for (ProcessHandle p : processes) {
      new ProcessBuilder("kill", "-STOP", Long.toString(p.pid())).start().waitFor();
    }
  }

  /** Posts a reading after the other, until nobody answers any more. */
  private static void post(WatchProcess watch, List<Instant> accepted) {
    Instant at = Instant.now().truncatedTo(ChronoUnit.SECONDS).minusSeconds(36_000);
    try {
      while (true) {
        at = at.plusSeconds(1);
        String line =
            "{\"well\":\"larkspur-2\",\"at\":\"%s\",\"gauge\":\"PT-1\",\"value\":46900}"
                .formatted(at);
        assertThat(watch.post("/telemetry", "application/x-ndjson", line).body())
            .contains("\"taken\":1");
        accepted.add(at);
      }
    } catch (IOException e) {
      assertThat(accepted).as("the power went: %s", e.getMessage()).isNotEmpty();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  @Test
  void everyAcceptedReadingIsOnTheDiskWhenThePowerGoes() throws Exception {
    Path image = folder.resolve("image");
    Path copy = folder.resolve("copy");
    List<Instant> accepted = new CopyOnWriteArrayList<>();
    try (SmallDisk disk = SmallDisk.mountImage(image, folder.resolve("before"));
        WatchProcess watch = watch(folder.resolve("before/data"))) {
      Thread poster = new Thread(() -> post(watch, accepted), "poster");
      poster.start();
      while (accepted.size() < 200) {
        assertThat(watch.endsWithin(20)).as("ended by itself").isFalse();
      }
      List<ProcessHandle> all = watch.processes();
      standStill(all); // in the midst of it
      Files.copy(image, copy);
      all.forEach(ProcessHandle::destroyForcibly);
    }
    try (SmallDisk disk = SmallDisk.mountImage(copy, folder.resolve("after"))) {
      try (WatchProcess watch = watch(folder.resolve("after/data"))) {
        while (!watch.text("/metrics").contains("stillwatch_spool_waiting 0")) {
          assertThat(watch.endsWithin(200)).isFalse();
        }
        watch.stop();
      }
      try (EmbeddedBroker broker =
              EmbeddedBroker.start(folder.resolve("after/data/broker")).join();
          Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
        assertThat(IntakeTest.log(bus))
            .filteredOn(Frame.class::isInstance)
            .extracting(t -> Instant.ofEpochMilli(t.atMs()))
            .containsAll(accepted)
            .doesNotHaveDuplicates()
            .isSorted();
      }
    }
  }
}
