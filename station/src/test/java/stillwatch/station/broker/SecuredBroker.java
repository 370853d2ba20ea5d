package stillwatch.station.broker;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import stillwatch.station.Pem;

/** A broker that speaks TLS only, and only with who has a password (SASL/PLAIN). */
public final class SecuredBroker {
  private SecuredBroker() {}

  /** Starts one in this folder; {@code broker.crt} in it is its certificate. */
  public static EmbeddedBroker start(Path folder, String user, String password) throws Exception {
    Pem.make(folder, "broker", Instant.now().plus(Duration.ofDays(30)));
    Path certificate = folder.resolve("broker.crt");
    Path both =
        Files.writeString(
            folder.resolve("broker.pem"),
            Files.readString(folder.resolve("broker.key")) + Files.readString(certificate));
    return EmbeddedBroker.start(
            folder.resolve("log"),
            Map.of(
                "listener.security.protocol.map",
                "PLAINTEXT:SASL_SSL,CONTROLLER:PLAINTEXT",
                "ssl.keystore.type",
                "PEM",
                "ssl.keystore.location",
                both.toString(),
                "ssl.truststore.type",
                "PEM",
                "ssl.truststore.location",
                certificate.toString(),
                "sasl.enabled.mechanisms",
                "PLAIN",
                "sasl.mechanism.inter.broker.protocol",
                "PLAIN",
                "listener.name.plaintext.plain.sasl.jaas.config",
                "org.apache.kafka.common.security.plain.PlainLoginModule required"
                    + " username=\"broker\" password=\"itself\" user_broker=\"itself\" user_%s=\"%s\";"
                        .formatted(user, password)))
        .join();
  }
}
