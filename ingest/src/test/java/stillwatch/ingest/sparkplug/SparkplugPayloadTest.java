package stillwatch.ingest.sparkplug;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.HexFormat;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.zip.DataFormatException;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The wire format of payloads, against examples of protobuf.dev, Encoding. What an independent
 * program encodes is read by the test of the MQTT source.
 */
class SparkplugPayloadTest {
  private static SparkplugPayload read(String hex) throws Exception {
    return SparkplugPayload.read(HexFormat.of().parseHex(hex));
  }

  /** 150 in field 1 is 08 96 01, "testing" in field 2 is 12 07 74 65 73 74 69 6e 67. */
  @Test
  void theExamplesOfTheStandardAreRead() throws Exception {
    assertThat(read("089601").atMs()).isEqualTo(OptionalLong.of(150));
    assertThat(read("1209" + "0a0774657374696e67").metrics().get(0).name()).isEqualTo("testing");
  }

  /** Two's complement of as many bits as the datatype has; the floats are of RFC 8949. */
  @ParameterizedTest
  @CsvSource({
    "1, 50ff01, -1",
    "2, 50ffff03, -1",
    "3, 50feffffff0f, -2",
    "7, 50feffffff0f, 4294967294",
    "4, 58feffffffffffffffff01, -2",
    "8, 58ffffffffffffffffff01, 18446744073709551615",
    "9, 650050c347, 100000",
    "10, 69666666666666 10c0, -4.1"
  })
  void numbersAreOfTheirDatatype(int datatype, String value, double is) throws Exception {
    String metric = "20%02x".formatted(datatype) + value.replace(" ", "");
    SparkplugMetric m = read("12%02x".formatted(metric.length() / 2) + metric).metrics().get(0);
    assertThat(m.number(0)).isEqualTo(OptionalDouble.of(is));
  }

  @Test
  void theCommandSaysWhatIsAsked() throws Exception {
    SparkplugPayload asked =
        SparkplugPayload.read(SparkplugPayload.askForRebirth(1_772_949_600_000L));
    assertThat(asked.atMs()).isEqualTo(OptionalLong.of(1_772_949_600_000L));
    assertThat(asked.metrics().get(0).name()).isEqualTo("Node Control/Rebirth");
    assertThat(asked.metrics().get(0).bits()).isEqualTo(1);
  }

  @Test
  void whatBreaksOffIsRefused() {
    for (String hex : new String[] {"08", "0896", "12ff01", "0c", "ffffffffffffffffffffff", "69"}) {
      assertThatThrownBy(() -> read(hex)).as(hex).isInstanceOf(DataFormatException.class);
    }
  }

  @Property(tries = 2000)
  void anyBytesAreReadOrRefused(@ForAll byte[] bytes) {
    try {
      assertThat(SparkplugPayload.read(bytes).metrics()).isNotNull();
    } catch (DataFormatException e) {
      assertThat(e.getMessage()).isNotBlank();
    }
  }
}
