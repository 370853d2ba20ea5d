package stillwatch.fieldbus.modbus;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.fieldbus.Cable;
import stillwatch.fieldbus.Logged;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.telemetry.Frame;

/** A register that counts how often it was read, while the line is cut and the source killed. */
class ModbusInFlightTest {
  private static final int ROUNDS = Integer.getInteger("stillwatch.rounds", 1);
  private static final int POLLS = Integer.getInteger("stillwatch.readings", 3000) / 300 / ROUNDS;
  private static final int ANSWER_BYTES = 11; // MBAP header 7, function, length, one register

  @TempDir Path folder;

  /** What an answer that was cut or not kept had said is lacking, and nothing else. */
  @Test
  @Timeout(value = 600, unit = TimeUnit.SECONDS)
  void whatWasPolledIsInTheLogOnceAndInOrderWhateverIsCutOrKilled() throws Exception {
    int port = Cable.freePort();
    long seed = System.nanoTime();
    Random random = new Random(seed);
    int kills = 0;
    try (ModbusPeer peer = ModbusPeer.listening(port);
        Logged log = new Logged(folder);
        Cable line = new Cable(port)) {
      peer.counting();
      SourcePlan.Brought way =
          Logged.way(
              "modbus",
              "{server: 'tcp://127.0.0.1:%d', every: 0.1, gauges: [{gauge: 'PT-1', register: 0, type: 'uint16'}]}"
                  .formatted(line.port()));
      Logged.Running source = log.start(way);
      for (int round = 0; round < ROUNDS; round++) {
        for (int cut = 0; cut < 2; cut++) {
          line.cutAfter(1 + random.nextInt(POLLS * ANSWER_BYTES));
          more(log, 2 * POLLS);
        }
        log.kill(source, "");
        kills++;
        source = log.start(way);
        more(log, POLLS);
      }
      source.close();
      assertThat(line.cuts()).as("seed %d", seed).isEqualTo(2 * ROUNDS);
      List<Double> said = log.frames("PT-1").stream().map(f -> f.values()[0]).toList();
      assertThat(said).as("seed %d", seed).isSorted().doesNotHaveDuplicates();
      double lacking = said.get(said.size() - 1) - said.size();
      assertThat(lacking).as("seed %d", seed).isBetween(0.0, 1.0 * line.cuts() + kills);
      assertThat(log.frames("PT-1")).extracting(Frame::atMs).isSorted();
    }
  }

  private static void more(Logged log, int polls) {
    log.frames("PT-1", log.frames("PT-1").size() + polls);
  }
}
