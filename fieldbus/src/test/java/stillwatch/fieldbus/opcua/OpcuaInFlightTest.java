package stillwatch.fieldbus.opcua;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.eclipse.milo.opcua.stack.core.util.SelfSignedCertificateGenerator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.fieldbus.Cable;
import stillwatch.fieldbus.Logged;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.telemetry.Frame;

/** Variables that count up, while the line is cut and the source killed. */
class OpcuaInFlightTest {
  private static final int READINGS = Integer.getInteger("stillwatch.readings", 3000) / 3;
  private static final int ROUNDS = Integer.getInteger("stillwatch.rounds", 1);
  private static final int PART = READINGS / ROUNDS / 3;
  private static final Instant SIX = Instant.parse("2026-03-08T06:00:00Z");
  private static final List<String> GAUGES = List.of("PT-1", "PT-2");
  private static final int KPA = 4935745; // UNECE_to_OPCUA.csv of the OPC Foundation

  @TempDir Path folder;
  private int said;

  @Test
  @Timeout(value = 1200, unit = TimeUnit.SECONDS)
  void eachReadingIsInTheLogOnceAndInOrderWhateverIsCutOrKilled() throws Exception {
    int port = Cable.freePort();
    long seed = System.nanoTime();
    Random random = new Random(seed);
    try (OpcuaPeer peer =
            OpcuaPeer.listening(port, SelfSignedCertificateGenerator.generateRsaKeyPair(2048));
        Logged log = new Logged(folder);
        Cable line = new Cable(port)) {
      GAUGES.forEach(g -> peer.variable(g, KPA, true));
      peer.page(500);
      SourcePlan.Brought way =
          Logged.way(
              "opcua",
              "{server: 'opc.tcp://127.0.0.1:%d', every: 0.05, gauges: [{gauge: 'PT-1', node: 'nsu=%s;s=PT-1'}, {gauge: 'PT-2', node: 'nsu=%2$s;s=PT-2'}]}"
                  .formatted(line.port(), OpcuaPeer.NAMESPACE));
      Logged.Running source = log.start(way).connected();
      for (int round = 0; round < ROUNDS; round++) {
        for (int cut = 0; cut < 2; cut++) {
          line.cutAfter(1 + random.nextInt(10 * PART)); // somewhere in what comes now
          say(peer, log, PART, random);
          has(log);
        }
        say(peer, log, PART / 2, random);
        log.kill(source, ".times");
        for (int i = 0; i < PART - PART / 2; i++) {
          saysNext(peer);
        }
        source = log.start(way);
        has(log);
      }
      source.close();
      assertThat(line.cuts()).as("seed %d", seed).isEqualTo(2 * ROUNDS);
      GAUGES.forEach(g -> eachOnce(log.frames(g), seed));
    }
  }

  /**
   * Now and then it is waited for, else the server is given more than it keeps between two answers.
   */
  private void say(OpcuaPeer peer, Logged log, int count, Random random) {
    for (int i = 0; i < count; i++) {
      saysNext(peer);
      if (random.nextInt(100) == 0) {
        log.frames("PT-1", said - 100);
      }
    }
  }

  private void saysNext(OpcuaPeer peer) {
    said++;
    for (String gauge : GAUGES) {
      peer.says(gauge, said, SIX.plusMillis(said * 10L));
    }
  }

  private void has(Logged log) {
    GAUGES.forEach(g -> log.frames(g, said + 1));
  }

  private void eachOnce(List<Frame> log, long seed) {
    for (int i = 1; i <= said; i++) {
      assertThat(log.get(i).values()).as("seed %d", seed).containsExactly(i);
      assertThat(log.get(i).atMs()).isEqualTo(SIX.toEpochMilli() + i * 10L);
    }
    assertThat(log).as("seed %d", seed).hasSize(said + 1); // and the first, from before
  }
}
