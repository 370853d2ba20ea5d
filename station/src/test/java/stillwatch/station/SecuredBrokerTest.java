package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.station.broker.EmbeddedBroker;
import stillwatch.station.broker.SecuredBroker;

/** A watch on a broker that wants TLS and a password. */
class SecuredBrokerTest {
  @TempDir Path folder;

  private Path client(String name, String password) throws IOException {
    return Files.writeString(
        folder.resolve(name),
        """
        security.protocol=SASL_SSL
        sasl.mechanism=PLAIN
        sasl.jaas.config=org.apache.kafka.common.security.plain.PlainLoginModule required username="watch" password="%s";
        ssl.truststore.type=PEM
        ssl.truststore.location=%s
        """
            .formatted(password, folder.resolve("broker.crt")));
  }

  @Test
  @Timeout(180)
  void whoHasTheCertificateAndThePasswordWatchesAndNobodyElse() throws Exception {
    try (EmbeddedBroker broker = SecuredBroker.start(folder, "watch", "on deck")) {
      String at = broker.bootstrap();
      try (WatchProcess watch =
          WatchProcess.drill(
                  folder.resolve("data"),
                  "leak.csv.gz",
                  "3000",
                  "--open",
                  "--broker",
                  at,
                  "--client-properties",
                  client("client.properties", "on deck").toString(),
                  "--http",
                  "0")
              .listening()) {
        watch.state(s -> s.path("alarms").findValuesAsText("rule").contains("sudden-drop"));
      }
      assertThat(refused(at, client("wrong.properties", "below deck")))
          .contains("the broker at " + at + " does not answer (", "Authentication failed");
      assertThat(refused(at, Files.writeString(folder.resolve("plain.properties"), "")))
          .contains("the broker at " + at + " wants TLS and this command does not speak it; give");
    }
  }

  private String refused(String at, Path properties) throws Exception {
    return Outcome.refused(
        "watch",
        "--open",
        "--plan",
        WatchProcess.LARKSPUR.resolve("plan.yaml").toString(),
        "--broker",
        at,
        "--client-properties",
        properties.toString(),
        "--data",
        folder.resolve("none").toString(),
        "--http",
        "0");
  }
}
