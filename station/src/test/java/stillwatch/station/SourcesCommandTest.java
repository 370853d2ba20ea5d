package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.digitalpetri.modbus.server.ModbusTcpServer;
import com.digitalpetri.modbus.server.ProcessImage;
import com.digitalpetri.modbus.server.ReadWriteModbusServices;
import com.digitalpetri.modbus.tcp.server.NettyTcpServerTransport;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The command that shows what the sources of a plan say. */
class SourcesCommandTest {
  @TempDir Path folder;

  private record Said(int exit, String text) {}

  private Said sources(int forS, String plan, String... more) throws Exception {
    Path file = folder.resolve("plan.yaml");
    Files.writeString(
        file, Files.readString(WatchProcess.LARKSPUR.resolve("plan.yaml")) + "\n" + plan);
    PrintStream before = System.out;
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    System.setOut(new PrintStream(bytes, true, StandardCharsets.UTF_8));
    try {
      String[] line =
          Stream.concat(
                  Stream.of("sources", "--plan", file.toString(), "--for", "" + forS),
                  Stream.of(more))
              .toArray(String[]::new);
      return new Said(Main.run(line), bytes.toString(StandardCharsets.UTF_8));
    } finally {
      System.setOut(before);
    }
  }

  private String files() throws Exception {
    Path logger = Files.createDirectories(folder.resolve("logger"));
    Files.writeString(
        logger.resolve("cap.csv"),
        "time,P1\n%s,46.8\n%s,46.9\n".formatted(Instant.now().minusSeconds(9), Instant.now()));
    return """
    sources:
      files:
        - name: logger
          folder: %s
          layout: {time: {column: time, format: rfc3339}, columns: {PT-1: {column: P1, unit: MPa}}}
    """
        .formatted(logger);
  }

  /** 46.8 is 423b3333 in binary32, as Python 3.11 has it: struct.pack('>f', 46.8). */
  @Test
  void eachGaugeIsShownInItsUnitWithQualityAndAge() throws Exception {
    int port = MqttSourceTest.freePort();
    ProcessImage image = new ProcessImage();
    image.with(
        t ->
            t.writeHoldingRegisters(
                registers -> {
                  registers.put(4, new byte[] {0x42, 0x3b});
                  registers.put(5, new byte[] {0x33, 0x33});
                }));
    ModbusTcpServer device =
        ModbusTcpServer.create(
            NettyTcpServerTransport.create(c -> c.setBindAddress("127.0.0.1").setPort(port)),
            new ReadWriteModbusServices() {
              @Override
              protected Optional<ProcessImage> getProcessImage(int unit) {
                return Optional.of(image);
              }
            });
    device.start();
    try {
      Said said =
          sources(
              60,
              files()
                  + """
                      modbus:
                        - name: cap-logger
                          server: "tcp://127.0.0.1:%d"
                          gauges: [{gauge: PT-2, register: 4, unit: MPa}]
                    """
                      .formatted(port));
      assertThat(said.text())
          .containsPattern("logger: connected\n  PT-1 +46900.0 kPa +good +[0-9]\\.[0-9] s old\n")
          .containsPattern(
              "cap-logger: connected\n  PT-2 +46800.0 kPa +good +[0-9]\\.[0-9] s old\n")
          .contains("operates no valve");
      assertThat(said.exit()).isZero();
    } finally {
      device.stop();
    }
  }

  @Test
  void whatSaysNothingIsShownWithItsFaultAndExitsWithOne() throws Exception {
    int port = MqttSourceTest.freePort();
    String nobody =
        """
          modbus:
            - {name: cap-logger, server: "tcp://127.0.0.1:%d", gauges: [{gauge: PT-2, register: 4}]}
        """
            .formatted(port);
    Said said = sources(2, files() + nobody);
    String fault = "nobody takes a connection at tcp://127.0.0.1:" + port;
    assertThat(said.exit()).isEqualTo(1);
    assertThat(said.text())
        .contains("logger: connected\n  PT-1", "cap-logger: not connected\n  fault: " + fault)
        .contains("  PT-2   says nothing\n");
    List<String> lines = sources(2, files() + nobody, "--format", "ndjson").text().lines().toList();
    JsonNode one = new ObjectMapper().readTree(lines.get(0));
    JsonNode two = new ObjectMapper().readTree(lines.get(1));
    assertThat(one.path("value").asDouble()).isEqualTo(46_900);
    assertThat(one.path("quality").asText()).isEqualTo("good");
    assertThat(two.path("gauge").asText()).isEqualTo("PT-2");
    assertThat(two.has("value")).isFalse();
    assertThat(two.path("fault").asText()).startsWith(fault);
  }

  @Test
  void aPlanWithoutSourcesIsRefused() throws Exception {
    assertThat(sources(2, "").exit()).isEqualTo(2);
  }
}
