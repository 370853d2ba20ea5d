package stillwatch.fieldbus.modbus;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.fieldbus.Logged;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Quality;

/** Registers polled over real sockets from the library's own server. */
@Timeout(120)
class ModbusSourceTest {
  @TempDir Path folder;
  private int port;
  private ModbusPeer peer;
  private Logged log;

  @BeforeEach
  void open() throws Exception {
    try (ServerSocket s = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      port = s.getLocalPort();
    }
    peer = ModbusPeer.listening(port);
    log = new Logged(folder);
  }

  @AfterEach
  void close() throws Exception {
    log.close();
    peer.close();
  }

  private SourcePlan.Brought way(String gauges) {
    return Logged.way(
        "modbus",
        "{server: 'tcp://127.0.0.1:%d', every: 0.1, timeout: 0.3, gauges: [%s]}"
            .formatted(port, gauges));
  }

  private static double value(List<Frame> frames) {
    return frames.get(0).values()[0];
  }

  /** 47c35000 is 100000.0 in binary32 (RFC 8949, appendix A, table 6). */
  @Test
  void valuesComeInTheirUnitsFromBothTablesAndUnitsNearOnesInOneRequest() {
    peer.holds(100, "47c3 5000").holds(108, "5000 47c3").holds("input", 2, 7, "01f4");
    String gauges =
        """
        {gauge: 'PT-1', register: 100, unit: 'Pa'},
        {gauge: 'PT-2', register: 108, words: 'low-first', unit: 'hPa'},
        {gauge: 'TT-1', register: 7, table: 'input', type: 'int16', 'unit-id': 2, scale: 0.1, offset: -40, unit: 'Cel'}
        """;
    try (Logged.Running source = log.start(way(gauges)).connected()) {
      assertThat(value(log.frames("PT-1", 2))).isEqualTo(100);
      assertThat(value(log.frames("PT-2", 2))).isEqualTo(10_000);
      assertThat(value(log.frames("TT-1", 2))).isEqualTo(10);
      assertThat(source.state().refused()).isEmpty();
      assertThat(List.copyOf(peer.asked)).containsOnly("holding 1 100 10", "input 2 7 1");
    }
  }

  /** 46.9 is 423b999a in binary32, as Python 3.11 has it: struct.pack('>f', 46.9). */
  @Test
  void theExampleOfTheDocumentsIsReadAsItStands() throws Exception {
    peer.holds(100, "423b 999a 999a 423b").holds("input", 2, 7, "01bd");
    SourcePlan.Brought example =
        Logged.example(
            folder,
            "sources:\n  modbus:",
            Map.of("127.0.0.1:502", "127.0.0.1:" + port, "every: 1 s", "every: 0.1 s"));
    try (Logged.Running source = log.start(example).connected()) {
      assertThat(value(log.frames("PT-1", 1))).isCloseTo(46_900, within(0.01)); // MPa in kPa
      assertThat(value(log.frames("PT-2", 1))).isCloseTo(46_900, within(0.01));
      assertThat(value(log.frames("TT-1", 1))).isCloseTo(4.5, within(1e-9));
      assertThat(source.state().refused()).isEmpty();
    }
  }

  @Test
  void eachPollIsInTheLogOnceAndInOrder() {
    peer.holds(0, "47c3 5000");
    try (Logged.Running source = log.start(way("{gauge: 'PT-1', register: 0}"))) {
      List<Frame> frames = log.frames("PT-1", 5);
      assertThat(frames).extracting(Frame::atMs).isSorted().doesNotHaveDuplicates();
      assertThat(source.state().again()).isZero();
    }
    int polls = peer.asked.size();
    assertThat(log.frames("PT-1")).hasSize(polls);
  }

  @Test
  void aRegisterThatIsNotAllowedSilencesItsGaugeAndNoOther() {
    peer.holds(0, "47c3 5000").holds(4, "47c3 5000");
    peer.forbidden = 2;
    String gauges =
        "{gauge: 'PT-1', register: 0}, {gauge: 'PT-2', register: 2}, {gauge: 'PT-3', register: 4}";
    try (Logged.Running source = log.start(way(gauges))) {
      source.says(
          "PT-2, holding register 2 of unit 1: the device answers illegal data address (exception code 2); correct");
      log.frames("PT-1", 3);
      log.frames("PT-3", 3);
      assertThat(log.frames("PT-2")).isEmpty();
      assertThat(source.state().connected()).isTrue();
      assertThat(source.state().fault()).doesNotContain("PT-1").doesNotContain("PT-3");
      peer.forbidden = -1;
      log.frames("PT-2", 1);
      source.connected();
    }
  }

  @Test
  void aUnitThatDoesNotAnswerIsToldByItsGaugeAndHoldsUpNoOther() {
    peer.holds(0, "47c3 5000");
    String gauges =
        "{gauge: 'PT-1', register: 0}, {gauge: 'PT-2', register: 0, 'unit-id': 9}, {gauge: 'PT-3', register: 50, 'unit-id': 9}";
    try (Logged.Running source = log.start(way(gauges))) {
      source.says("PT-2, holding register 0 of unit 9: no answer within 300 ms; correct 'unit-id'");
      source.says("PT-3, holding register 50 of unit 9: no answer");
      log.frames("PT-1", 10);
      assertThat(source.state().connected()).isTrue();
      assertThat(source.state().reconnects()).isZero();
      long ofNine = peer.asked.stream().filter(a -> a.startsWith("holding 9")).count();
      assertThat(ofNine).isLessThan(log.frames("PT-1").size());
    }
  }

  @Test
  void whoNeverAnswersIsNotConnected() {
    try (Logged.Running source = log.start(way("{gauge: 'PT-2', register: 0, 'unit-id': 9}"))) {
      source.says("of unit 9: no answer within 300 ms");
      assertThat(source.state().connected()).isFalse();
    }
  }

  @Test
  void aUnitThatWasSlowIsHeardAgain() {
    peer.holds("holding", 2, 0, "47c3 5000");
    peer.slowUnit = 2;
    String gauges = "{gauge: 'PT-1', register: 0}, {gauge: 'PT-2', register: 0, 'unit-id': 2}";
    try (Logged.Running source = log.start(way(gauges))) {
      source.says("PT-2, holding register 0 of unit 2: no answer");
      peer.slowUnit = -1;
      peer.slow.release(1000);
      assertThat(value(log.frames("PT-2", 2))).isEqualTo(100_000);
      source.connected();
    }
  }

  @Test
  void aLostConnectionIsToldAndMadeAgain() throws Exception {
    peer.holds(0, "47c3 5000");
    try (Logged.Running source = log.start(way("{gauge: 'PT-1', register: 0}")).connected()) {
      int before = log.frames("PT-1", 2).size();
      peer.close();
      Logged.until("it is lost", () -> !source.state().connected());
      source.says("nobody takes a connection at tcp://127.0.0.1:" + port);
      peer = ModbusPeer.listening(port).holds(0, "47c3 5000");
      log.frames("PT-1", before + 3);
      source.connected();
      assertThat(source.state().reconnects()).isEqualTo(1);
      assertThat(log.frames("PT-1")).extracting(Frame::atMs).isSorted().doesNotHaveDuplicates();
    }
  }

  @Test
  void whatCannotBeKeptIsTold() {
    log.full(true);
    try (Logged.Running source = log.start(way("{gauge: 'PT-1', register: 0}"))) {
      source.says("readings cannot be kept");
      log.full(false);
      log.frames("PT-1", 1);
      source.connected();
    }
  }

  @Test
  void whateverStandsInTheRegistersIsAFiniteNumberOrABadReading() {
    Random random = new Random(26);
    String gauges =
        """
        {gauge: 'PT-1', register: 0}, {gauge: 'PT-2', register: 2, type: 'float64'}, {gauge: 'PT-3', register: 6, words: 'low-first'},
        {gauge: 'PT-4', register: 8, type: 'uint32', scale: 1e305}, {gauge: 'TT-1', register: 10, type: 'int16', 'not-a-value': 0}
        """;
    byte[] content = new byte[24];
    try (Logged.Running source = log.start(way(gauges)).connected()) {
      for (int i = 0; i < 20; i++) {
        random.nextBytes(content);
        content[0] =
            content[4] = i % 2 == 0 ? (byte) 0x7f : (byte) 0xff; // many exponents of no value
        content[1] = content[5] |= (byte) 0xf0;
        peer.holds(0, HexFormat.of().formatHex(content));
        log.frames("TT-1", log.frames("TT-1").size() + 1);
      }
      assertThat(source.state().refused()).isEmpty();
      assertThat(source.state().reconnects()).isZero();
    }
    assertThat(log.frames())
        .allMatch(f -> Double.isFinite(f.values()[0]) == (f.qualities()[0] == Quality.GOOD.code()))
        .anyMatch(f -> f.qualities()[0] == Quality.BAD.code());
  }

  @Test
  void aMistakeInThePlanNamesSourceAndGauge() {
    assertThat(
            Logged.mistakes(
                "modbus",
                "{server: 'tcp://:5', gauges: [{gauge: 'PT-1', register: 65535}, {gauge: 'PT-1', register: 0}], every: 0.01, timeout: 0.01}"))
        .containsExactlyInAnyOrder(
            "/server 'tcp://:5' is no address; write it like tcp://10.0.0.7:502",
            "/gauges/0/register source 'peer', gauge 'PT-1': a float32 at register 65535 ends beyond the last register, 65535; correct 'register' or 'type'",
            "/gauges/1/gauge source 'peer' reads PT-1 twice; leave one out",
            "/every source 'peer': poll at most every 0.1 s",
            "/timeout source 'peer': wait 0.1 s or longer for an answer");
  }
}
