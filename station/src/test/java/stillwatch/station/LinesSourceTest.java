package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInfo;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.station.broker.EmbeddedBroker;

/** Lines over TCP, both ways round, and from a device. */
@Timeout(300)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class LinesSourceTest {
  private static final int SPOILT = Integer.getInteger("stillwatch.spoilt", 3000);
  private static final int READINGS = Integer.getInteger("stillwatch.readings", 3000);
  private static final long FIRST_MS = Instant.parse("2026-03-08T06:00:00Z").toEpochMilli();

  private final Path all;
  private final EmbeddedBroker kafka;
  private final Bus bus;
  private final FollowedLog log;
  private Path folder;

  LinesSourceTest(@TempDir Path all) throws Exception {
    this.all = all;
    folder = all;
    kafka = EmbeddedBroker.start(all.resolve("kafka")).get();
    bus = KafkaBus.open(new BusSettings(kafka.bootstrap(), Map.of()));
    log = FollowedLog.of(bus);
  }

  @BeforeEach
  void anew(TestInfo test) throws Exception {
    folder = Files.createDirectories(all.resolve(test.getTestMethod().orElseThrow().getName()));
  }

  @AfterAll
  void close() throws Exception {
    log.close();
    bus.close();
    kafka.close();
  }

  private static String example() throws Exception {
    String doc = Files.readString(Path.of("../docs/adapters.md"));
    int from = doc.indexOf("sources:\n  lines:");
    return doc.substring(from, doc.indexOf("```", from));
  }

  private static String text(String link) {
    return """
    sources:
      lines:
        - name: topside
          %s
          framing: text
          separator: ";"
          readings:
            - {pattern: "^P1;", gauge: PT-1, value: 3, time: 2, quality: 4, unit: MPa}
            - {pattern: "^P1;", gauge: TT-1, value: 5, time: 2, unit: Cel}
    """
        .formatted(link);
  }

  private Intaking open(String sources) throws Exception {
    return Intaking.open(folder, Intaking.plan(folder, sources), bus, Trust.usual());
  }

  private static ServerSocket server() throws IOException {
    return new ServerSocket(0, 1, InetAddress.getLoopbackAddress());
  }

  private static String at(ServerSocket server) {
    return "127.0.0.1:" + server.getLocalPort();
  }

  private static void send(Socket to, String text) throws IOException {
    to.getOutputStream().write(text.getBytes(StandardCharsets.ISO_8859_1));
    to.getOutputStream().flush();
  }

  /** What the log has of a gauge since then, the newest times apart. */
  private List<String> says(String gauge, int before) {
    var frames = log.now(gauge);
    return frames.subList(before, frames.size()).stream()
        .map(f -> Math.round(f.values()[0]) + " " + f.qualities()[0])
        .toList();
  }

  private int before(String gauge) {
    return log.now(gauge).size();
  }

  private static String sentence(String text) {
    int sum = text.chars().reduce(0, (a, b) -> a ^ b);
    return "$%s*%02X\r\n".formatted(text, sum);
  }

  @Test
  void theExampleOfTheDocumentsAndWhatIsNotWhole() throws Exception {
    int before = before("PT-1");
    String doc = Files.readString(Path.of("../docs/adapters.md"));
    int from = doc.indexOf("$YXXDR");
    String good = doc.substring(from, doc.indexOf('`', from)) + "\r\n";
    // the sentence that open descriptions of NMEA 0183 show, with its published checksum
    String gga = "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\r\n";
    try (ServerSocket server = server();
        Intaking intaking = open(example().replace("10.20.30.40:4001", at(server)))) {
      try (Socket their = server.accept()) {
        send(their, good + good.replace("469.1", "469.2") + gga + "!".repeat(5000) + "\r\n");
        send(their, sentence("YXXDR,P,much,B,CAP1") + "\r\n" + sentence("YXXDR,P,469.3,B,CAP1"));
        Intaking.until("two are there", () -> says("PT-1", before).size() == 2);
        send(their, sentence("YXXDR,P,469.4,B,CAP1").substring(0, 12));
      }
      try (Socket their = server.accept()) {
        send(their, sentence("YXXDR,P,469.5,B,CAP1"));
        Intaking.until("three are there", () -> says("PT-1", before).size() == 3);
      }
      assertThat(says("PT-1", before)).containsExactly("46910 0", "46930 0", "46950 0");
      assertThat(intaking.state().refused())
          .isEqualTo(
              Map.of("incomplete", 2L, "unknown-gauge", 1L, "too-long", 1L, "bad-value", 1L));
      assertThat(intaking.state().reconnects()).isEqualTo(1);
    }
  }

  @Test
  void aLineMaySaySeveralReadingsAndATimeOfItsOwn() throws Exception {
    int before = before("TT-1");
    int port = MqttSourceTest.freePort();
    try (Intaking intaking = open(text("listen: \"127.0.0.1:" + port + "\""))) {
      Intaking.until("it listens", () -> intaking.state().fault().contains("nobody has connected"));
      try (Socket one = new Socket(InetAddress.getLoopbackAddress(), port);
          Socket other = new Socket(InetAddress.getLoopbackAddress(), port)) {
        send(one, "P1;2026-03-08T07:00:00Z;46.9;uncertain;4.5\n");
        send(other, "P1;noon;46.9;good;4.5\nP1;2026-03-08T07:00:01Z;46.9;good\n");
        Intaking.until(
            "all came",
            () -> intaking.state().refused().values().stream().mapToLong(n -> n).sum() == 3);
        Intaking.until("it is there", () -> says("TT-1", before).size() == 1);
        var frame = log.now("TT-1").get(before);
        assertThat(Instant.ofEpochMilli(frame.atMs())).isEqualTo("2026-03-08T07:00:00Z");
        assertThat(intaking.state().connected()).isTrue();
        assertThat(intaking.state().refused()).isEqualTo(Map.of("bad-time", 2L, "incomplete", 1L));
      }
      Intaking.until("it says so", () -> intaking.state().fault().contains("nobody is connected"));
    }
  }

  @Test
  void aDeviceIsReadLikeAConnection() throws Exception {
    int before = before("PT-1");
    Path pipe = folder.resolve("serial");
    assertThat(new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor()).isZero();
    try (Intaking intaking = open(text("device: " + pipe));
        OutputStream out = Files.newOutputStream(pipe)) {
      out.write("P1;2026-03-08T08:00:00Z;46.9;good;4.5\n".getBytes(StandardCharsets.UTF_8));
      Intaking.until("it is there", () -> says("PT-1", before).equals(List.of("46900 0")));
      assertThat(intaking.state().connected()).isTrue();
    }
  }

  /** Nobody hears that a line came, so only what was sent whole before a cut can be there. */
  @Test
  void eachWholeLineIsInTheLogOnceAndInOrderWhateverIsCutBetween() throws Exception {
    int before = before("PT-1");
    try (ServerSocket server = server();
        Intaking intaking = open(text("connect: \"" + at(server) + "\""))) {
      for (int part = 0; part < 3; part++) {
        int from = part * READINGS / 3;
        int to = (part + 1) * READINGS / 3;
        try (Socket their = server.accept()) {
          StringBuilder lines = new StringBuilder();
          for (int i = from; i < to; i++) {
            lines.append(
                "P1;%s;%s;good;4.5\n"
                    .formatted(
                        Instant.ofEpochMilli(FIRST_MS + 36_000_000 + i * 1000L), 40 + i / 1000.0));
          }
          send(their, lines + "P1;2026-03-08T"); // and half a line
        }
      }
      Intaking.until("all are there", () -> before("PT-1") == before + READINGS);
      var frames = log.now("PT-1");
      for (int i = 0; i < READINGS; i++) {
        assertThat(frames.get(before + i).atMs()).isEqualTo(FIRST_MS + 36_000_000 + i * 1000L);
        assertThat(Math.round(frames.get(before + i).values()[0])).isEqualTo(40_000 + i);
      }
      Intaking.until(
          "the halves are told", () -> Map.of("incomplete", 3L).equals(intaking.state().refused()));
    }
  }

  @Test
  void spoiltLinesAreRefusedWithAReasonAndNoneEndsTheSource() throws Exception {
    int before = before("PT-1");
    Random random = new Random(26);
    byte[] good = sentence("YXXDR,P,469.1,B,CAP1").strip().getBytes(StandardCharsets.UTF_8);
    try (ServerSocket server = server();
        Intaking intaking = open(example().replace("10.20.30.40:4001", at(server)));
        Socket their = server.accept()) {
      for (int i = 0; i < SPOILT; i++) {
        their.getOutputStream().write(MqttSourceTest.spoilt(good, random));
        their.getOutputStream().write('\n');
      }
      send(their, sentence("YXXDR,P,470.5,B,CAP1"));
      Intaking.until("the last is there", () -> says("PT-1", before).contains("47050 0"));
      SourceHealth.State state = intaking.state();
      long refused = state.refused().values().stream().mapToLong(Long::longValue).sum();
      assertThat(refused).isGreaterThan(SPOILT * 9L / 10);
      assertThat(state.reconnects()).isZero();
    }
  }
}
