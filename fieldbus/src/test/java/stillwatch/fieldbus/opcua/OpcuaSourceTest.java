package stillwatch.fieldbus.opcua;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyPair;
import java.security.cert.X509Certificate;
import java.time.Instant;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.eclipse.milo.opcua.stack.core.util.SelfSignedCertificateGenerator;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.fieldbus.Cable;
import stillwatch.fieldbus.Logged;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Quality;

/** Variables of Milo's own server, subscribed to over real sockets. */
@Timeout(120)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class OpcuaSourceTest {
  private static final Instant SIX = Instant.parse("2026-03-08T06:00:00Z");
  private static final int KPA = 4935745; // UNECE_to_OPCUA.csv of the OPC Foundation
  private static final int MPA = 5066817;
  private static final int BAR = 4342098;
  private static final int CEL = 4408652;
  private static final int PSI = 20563;
  private static final int KILOGRAM = 4933453;

  private final Path all;
  private final int port = Cable.freePort();
  private final KeyPair keys = SelfSignedCertificateGenerator.generateRsaKeyPair(2048);
  private final OpcuaPeer peer;
  private Logged log;

  OpcuaSourceTest(@TempDir Path all) throws Exception {
    this.all = all;
    peer = OpcuaPeer.listening(port, keys);
    log = new Logged(all);
  }

  @BeforeEach
  void anew() throws Exception {
    log = new Logged(Files.createTempDirectory(all, "log"));
  }

  @AfterEach
  void close() {
    log.close();
  }

  @AfterAll
  void closePeer() throws Exception {
    peer.close();
  }

  private static SourcePlan.Brought way(int port, String more, String... gauges) {
    return Logged.way(
        "opcua",
        "{server: 'opc.tcp://127.0.0.1:%d', every: 0.05, %s gauges: [%s]}"
            .formatted(port, more, String.join(", ", gauges)));
  }

  private static String gauge(String gauge, String name, String more) {
    return "{gauge: '%s', node: 'nsu=%s;s=%s' %s}"
        .formatted(gauge, OpcuaPeer.NAMESPACE, name, more);
  }

  @Test
  void whatTheSourceSaysIsInTheLogWithItsTimeUnitAndQuality() {
    peer.variable("a.bar", BAR, true).variable("a.plain", 0, true).variable("a.cel", CEL, true);
    peer.says("a.bar", 469.1, SIX);
    peer.says("a.plain", 46_900, SIX);
    peer.says("a.cel", 4.5, SIX);
    String[] gauges = {
      gauge("PT-1", "a.bar", ""),
      gauge("PT-2", "a.plain", ""),
      gauge("TT-1", "a.cel", ", unit: 'Cel'")
    };
    try (Logged.Running source = log.start(way(port, "", gauges)).connected()) {
      assertThat(log.frames("PT-1", 1).get(0).values()[0]).isEqualTo(46_910); // 469.1 bar in kPa
      assertThat(log.frames("PT-2", 1).get(0).values()[0]).isEqualTo(46_900);
      assertThat(log.frames("TT-1", 1).get(0).atMs()).isEqualTo(SIX.toEpochMilli());
      peer.says("a.cel", 4.5, SIX.plusSeconds(1)); // the same value with a new time is said too
      peer.says(
          "a.cel",
          new Variant(4.6),
          new StatusCode(StatusCodes.Uncertain_LastUsableValue),
          SIX.plusSeconds(2));
      peer.says(
          "a.cel",
          Variant.NULL_VALUE,
          new StatusCode(StatusCodes.Bad_SensorFailure),
          SIX.plusSeconds(3));
      peer.says("a.cel", Double.NaN, SIX.plusSeconds(4));
      List<Frame> frames = log.frames("TT-1", 5);
      assertThat(frames)
          .extracting(
              f ->
                  f.atMs()
                      - SIX.toEpochMilli()
                      + " "
                      + Quality.of(f.qualities()[0])
                      + " "
                      + f.values()[0])
          .containsExactly(
              "0 GOOD 4.5", "1000 GOOD 4.5", "2000 UNCERTAIN 4.6", "3000 BAD NaN", "4000 BAD NaN");
      assertThat(source.state().refused()).isEmpty();
    }
  }

  @Test
  void theExampleOfTheDocumentsIsReadAsItStands() throws Exception {
    peer.variable("port.pressure", KPA, true).variable("starboard.pressure", MPA, true);
    peer.variable("rams.temperature", CEL, true);
    peer.says("port.pressure", 46_910, SIX);
    peer.says("starboard.pressure", 46.9, SIX);
    peer.says("rams.temperature", 4.5, SIX);
    SourcePlan.Brought example =
        Logged.example(
            all,
            "sources:\n  opcua:",
            Map.of("127.0.0.1:4840", "127.0.0.1:" + port, "every: 1 s", "every: 0.1 s"));
    try (Logged.Running source = log.start(example).connected()) {
      assertThat(log.frames("PT-1", 1).get(0).values()).containsExactly(46_910);
      assertThat(log.frames("PT-2", 1).get(0).values()).containsExactly(46_900);
      assertThat(log.frames("TT-1", 1).get(0).values()).containsExactly(4.5);
    }
  }

  @Test
  void aNodeOrAUnitThatIsAnotherIsToldByItsGaugeAndTheOthersGoOn() {
    peer.variable("b.good", KPA, true).variable("b.text", 0, true).variable("b.kg", KILOGRAM, true);
    peer.variable("b.psi", PSI, true).variable("b.cel", CEL, true);
    peer.says("b.good", 1, SIX);
    peer.says("b.text", new Variant("open"), StatusCode.GOOD, SIX);
    String[] gauges = {
      gauge("PT-1", "b.good", ""),
      gauge("PT-2", "b.none", ""),
      gauge("PT-3", "b.psi", ", unit: 'bar'"),
      gauge("PT-4", "b.cel", ""),
      gauge("TT-1", "b.kg", ""),
      gauge("TT-2", "b.text", "")
    };
    try (Logged.Running source = log.start(way(port, "", gauges))) {
      log.frames("PT-1", 1);
      assertThat(source.state().connected()).isTrue();
      String place = ", node nsu=" + OpcuaPeer.NAMESPACE + ";s=";
      assertThat(source.state().fault().split("; (?=[PT]T-)", -1))
          .containsExactlyInAnyOrder(
              "PT-2"
                  + place
                  + "b.none: the server says Bad_NodeIdUnknown; correct 'node' in the plan",
              "PT-3"
                  + place
                  + "b.psi: the server says the unit [psi], the plan bar; correct the one that is wrong",
              "PT-4"
                  + place
                  + "b.cel: the server says the unit Cel, and the gauge measures pressure; correct 'node' or the gauge's kind",
              "TT-1"
                  + place
                  + "b.kg: the server says the unit 'kg', which is not known here; say 'unit' in the plan",
              "TT-2" + place + "b.text: holds a String and no number; correct 'node'");
    }
  }

  @Test
  void whatWasSaidWhileTheLineWasCutComesFromItsHistoryInOrder() throws Exception {
    peer.variable("c.one", KPA, true).variable("c.two", KPA, true);
    peer.page(7);
    try (Cable line = new Cable(port);
        Logged.Running source =
            log.start(way(line.port(), "", gauge("PT-1", "c.one", ""), gauge("PT-2", "c.two", "")))
                .connected()) {
      says("c", 0, 10);
      log.frames("PT-2", 11);
      line.hold();
      Logged.until("it is lost", () -> !source.state().connected());
      says("c", 10, 40);
      line.release();
      source.connected();
      says("c", 40, 50);
      log.frames("PT-1", 51);
      log.frames("PT-2", 51);
      assertThat(source.state().reconnects()).isPositive();
    } finally {
      peer.page(1000);
    }
    inOrder("PT-1", 50);
    inOrder("PT-2", 50);
    List<Long> outage =
        log.frames().stream()
            .filter(f -> f.values()[0] > 10 && f.values()[0] < 40)
            .map(Frame::atMs)
            .toList();
    assertThat(outage).as("of both gauges together").isSorted();
  }

  @Test
  void whatWasSaidWhileTheWatchWasAwayComesWhenItIsBack() {
    peer.variable("d.one", KPA, true).variable("d.two", KPA, true);
    String[] gauges = {gauge("PT-1", "d.one", ""), gauge("PT-2", "d.two", "")};
    try (Logged.Running source = log.start(way(port, "", gauges)).connected()) {
      says("d", 0, 10);
      log.frames("PT-2", 11);
      log.frames("PT-1", 11);
    }
    says("d", 10, 20);
    try (Logged.Running source = log.start(way(port, "", gauges)).connected()) {
      log.frames("PT-1", 21);
      log.frames("PT-2", 21);
    }
    inOrder("PT-1", 20);
    inOrder("PT-2", 20);
  }

  @Test
  void aGaugeWithoutHistoryIsToldOnceItLacksSomething() throws Exception {
    peer.variable("e.one", KPA, false);
    try (Cable line = new Cable(port);
        Logged.Running source =
            log.start(way(line.port(), "", gauge("PT-1", "e.one", ""))).connected()) {
      says("e", 0, 3, "one");
      log.frames("PT-1", 4);
      line.cut();
      source.says("PT-1, node nsu=urn:example:cap;s=e.one: the server keeps no history of it");
      Logged.until("it is there again", () -> source.state().connected());
      says("e", 3, 4, "one");
      log.frames("PT-1", 5);
    }
  }

  private void says(String group, int from, int to, String... names) {
    for (int i = from; i < to; i++) {
      for (String name : names.length == 0 ? new String[] {"one", "two"} : names) {
        peer.says(group + "." + name, i + 1, SIX.plusMillis(i * 10L));
      }
    }
  }

  /** After the value of before anybody said anything, each once. */
  private void inOrder(String gauge, int count) {
    List<Frame> frames = log.frames(gauge);
    assertThat(frames).hasSize(count + 1);
    for (int i = 0; i < count; i++) {
      assertThat(frames.get(i + 1).values()).containsExactly(i + 1);
      assertThat(frames.get(i + 1).atMs()).isEqualTo(SIX.toEpochMilli() + i * 10L);
    }
  }

  private Path file(String name, String what, byte[] bytes) throws Exception {
    String text =
        "-----BEGIN %s-----\n%s\n-----END %1$s-----\n"
            .formatted(what, Base64.getMimeEncoder().encodeToString(bytes));
    return Files.writeString(all.resolve(name), text);
  }

  private String secured(Path certificate, Path key, Path trust, String password) throws Exception {
    Path secret = Files.createTempFile(all, "secret", "");
    Files.writeString(secret, password + "\n", StandardCharsets.UTF_8);
    return "security: 'Basic256Sha256', user: '%s', 'password-file': '%s', 'certificate-file': '%s', 'key-file': '%s', 'trust-file': '%s',"
        .formatted(OpcuaPeer.USER, secret, certificate, key, trust);
  }

  @Test
  void encryptedItShowsItsCertificateUserAndPasswordAndElseSaysWhyNot() throws Exception {
    peer.variable("f", KPA, true).says("f", 46_900, SIX);
    KeyPair own = SelfSignedCertificateGenerator.generateRsaKeyPair(2048);
    X509Certificate known = OpcuaPeer.certificate(own, "urn:example:watch");
    Path certificate = file("watch.crt", "CERTIFICATE", known.getEncoded());
    Path key = file("watch.key", "PRIVATE KEY", own.getPrivate().getEncoded());
    Path trust = file("server.crt", "CERTIFICATE", peer.certificate.getEncoded());
    String gauge = gauge("PT-1", "f", "");
    saysWhy(
        secured(certificate, key, trust, OpcuaPeer.PASSWORD),
        "does not take this client's certificate");
    peer.trusts.addTrustedCertificate(known);
    try (Logged.Running source =
        log.start(way(port, secured(certificate, key, trust, OpcuaPeer.PASSWORD), gauge))
            .connected()) {
      assertThat(log.frames("PT-1", 1).get(0).values()[0]).isEqualTo(46_900);
    }
    saysWhy(secured(certificate, key, trust, "another"), "does not let watch in (Bad_");
    saysWhy(
        secured(certificate, key, certificate, OpcuaPeer.PASSWORD),
        "the certificate of opc.tcp://127.0.0.1:"
            + port
            + " is not trusted here (Bad_SecurityChecksFailed); compare it");
    saysWhy(secured(certificate, all.resolve("none.key"), trust, "x"), "none.key cannot be read");
    saysWhy(
        secured(certificate, key, trust, "x").replace("Basic256Sha256", "Aes256_Sha256_RsaPss"),
        "does not offer the security Aes256_Sha256_RsaPss but Basic256Sha256, None");
  }

  private void saysWhy(String more, String why) {
    try (Logged.Running source = log.start(way(port, more, gauge("PT-1", "f", "")))) {
      source.says(why);
      assertThat(source.state().connected()).isFalse();
    }
  }

  @Test
  void aServerThatIsNotThereIsTold() throws Exception {
    int nobody = Cable.freePort();
    try (Logged.Running source = log.start(way(nobody, "", gauge("PT-1", "f", "")))) {
      source.says("the server opc.tcp://127.0.0.1:" + nobody + " cannot be reached");
    }
  }

  @Test
  void itsNodesAreOfferedAsAPlanNamesThem() throws Exception {
    peer.variable("g.bar", BAR, true).says("g.bar", 1, SIX);
    assertThat(way(port, "", gauge("PT-1", "g.bar", "")).offers())
        .contains("nsu=urn:example:cap;s=g.bar  Double  bar  /g.bar");
  }

  @Test
  void aMistakeInThePlanNamesSourceAndGauge() {
    assertThat(
            Logged.mistakes(
                "opcua",
                "{server: 'opc.tcp://:5', every: 0.01, user: 'u', gauges: [{gauge: 'PT-1', node: 'port'}, {gauge: 'PT-1', node: 'ns=2;i=5'}]}"))
        .containsExactlyInAnyOrder(
            "/server 'opc.tcp://:5' is no address; write it like opc.tcp://10.0.0.9:4840",
            "/every source 'peer': ask for values at most every 0.05 s",
            " source 'peer': user and password-file go together; say both",
            "/user source 'peer': a password must not go unencrypted; say 'security' too",
            "/gauges/0/node source 'peer', gauge 'PT-1': 'port' is no node id; write it like nsu=urn:example:cap;s=port.pressure or ns=2;i=1001",
            "/gauges/1 source 'peer' reads PT-1 twice; leave one out");
    assertThat(
            Logged.mistakes(
                "opcua",
                "{server: 'opc.tcp://a', security: 'Basic256Sha256', 'trust-file': 'x', gauges: [{gauge: 'PT-1', node: 'i=1'}]}"))
        .containsExactlyInAnyOrder(
            "/security source 'peer': security wants 'certificate-file'; say it too",
            "/security source 'peer': security wants 'key-file'; say it too");
  }
}
