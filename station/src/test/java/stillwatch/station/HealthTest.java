package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.entrance.Limits;
import stillwatch.ingest.intake.Door;

class HealthTest {
  private static Door door(Optional<String> fault) throws IOException {
    return new Door(
        new InetSocketAddress(InetAddress.getLoopbackAddress(), 0),
        Limits.USUAL,
        null,
        () -> "",
        () -> fault);
  }

  @Test
  void aServiceThatWorksIsGood() throws Exception {
    try (Door door = door(Optional.empty())) {
      String url = "http://127.0.0.1:" + door.port() + "/health";
      assertThat(Outcome.of("health", "--url", url, "--within", "60").exit()).isZero();
    }
  }

  @Test
  void aServiceThatIsBlindSaysWhy() throws Exception {
    try (Door door = door(Optional.of("the broker does not answer"))) {
      String url = "http://127.0.0.1:" + door.port() + "/health";
      Outcome outcome = Outcome.of("health", "--url", url, "--within", "3");
      assertThat(outcome.exit()).isEqualTo(1);
      assertThat(outcome.lines())
          .containsExactly(url + " answers 503: blind: the broker does not answer");
    }
  }

  @Test
  void whereNobodyAnswersItFailsAndWhatIsNoAddressIsRefused() throws Exception {
    String nobody = "http://127.0.0.1:1/health";
    Outcome outcome = Outcome.of("health", "--url", nobody);
    assertThat(outcome.exit()).isEqualTo(1);
    assertThat(outcome.lines()).singleElement().asString().startsWith(nobody + " does not answer");
    assertThat(Outcome.refused("health", "--url", "localhost:8480")).contains("whole address");
  }
}
