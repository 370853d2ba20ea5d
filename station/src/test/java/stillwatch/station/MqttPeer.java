package stillwatch.station;

import com.hivemq.embedded.EmbeddedExtension;
import com.hivemq.embedded.EmbeddedHiveMQ;
import com.hivemq.extension.sdk.api.ExtensionMain;
import com.hivemq.extension.sdk.api.auth.SimpleAuthenticator;
import com.hivemq.extension.sdk.api.auth.SubscriptionAuthorizer;
import com.hivemq.extension.sdk.api.auth.parameter.SimpleAuthInput;
import com.hivemq.extension.sdk.api.auth.parameter.SimpleAuthOutput;
import com.hivemq.extension.sdk.api.parameter.ExtensionStartInput;
import com.hivemq.extension.sdk.api.parameter.ExtensionStartOutput;
import com.hivemq.extension.sdk.api.parameter.ExtensionStopInput;
import com.hivemq.extension.sdk.api.parameter.ExtensionStopOutput;
import com.hivemq.extension.sdk.api.services.Services;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * An MQTT broker that nobody here wrote, of versions 3.1.1 and 5: HiveMQ's community edition, in
 * this process. Who names a user must know the password {@value #PASSWORD}, and nobody may listen
 * to {@value #FORBIDDEN}. A session keeps up to a million messages; as delivered it drops from the
 * thousandth on.
 */
final class MqttPeer implements AutoCloseable {
  static final String PASSWORD = "between us";
  static final String FORBIDDEN = "larkspur/forbidden";

  private final EmbeddedHiveMQ broker;

  private MqttPeer(EmbeddedHiveMQ broker) {
    this.broker = broker;
  }

  /**
   * Starts one.
   *
   * @param folder its own
   * @param listeners where it listens, as its settings say that
   */
  static MqttPeer listening(Path folder, String listeners) throws IOException {
    Path settings = Files.createDirectories(folder.resolve("conf"));
    Files.writeString(
        settings.resolve("config.xml"),
        """
        <hivemq>
          <listeners>%s</listeners>
          <mqtt><queued-messages><max-queue-size>1000000</max-queue-size></queued-messages></mqtt>
          <persistence><mode>in-memory</mode></persistence>
          <anonymous-usage-statistics><enabled>false</enabled></anonymous-usage-statistics>
        </hivemq>
        """
            .formatted(listeners));
    EmbeddedHiveMQ broker =
        EmbeddedHiveMQ.builder()
            .withConfigurationFolder(settings)
            .withDataFolder(Files.createDirectories(folder.resolve("data")))
            .withExtensionsFolder(Files.createDirectories(folder.resolve("extensions")))
            .withEmbeddedExtension(
                EmbeddedExtension.builder()
                    .withId("guard")
                    .withName("Guard")
                    .withVersion("1")
                    .withPriority(1)
                    .withStartPriority(1)
                    .withExtensionMain(new Guard())
                    .build())
            .withoutLoggingBootstrap()
            .build();
    var faults = Thread.getDefaultUncaughtExceptionHandler();
    broker.start().join();
    Thread.setDefaultUncaughtExceptionHandler(faults); // it has put its own there
    return new MqttPeer(broker);
  }

  /** What its settings say of listening to this port. */
  static String plain(int port) {
    return "<tcp-listener><port>%d</port><bind-address>127.0.0.1</bind-address></tcp-listener>"
        .formatted(port);
  }

  @Override
  public void close() {
    broker.stop().join();
  }

  /** Who may enter, and listen to what. */
  private static final class Guard implements ExtensionMain {
    @Override
    public void extensionStart(ExtensionStartInput input, ExtensionStartOutput output) {
      SimpleAuthenticator who = Guard::who;
      SubscriptionAuthorizer what =
          (in, out) -> {
            if (in.getSubscription().getTopicFilter().equals(FORBIDDEN)) {
              out.failAuthorization();
            } else {
              out.authorizeSuccessfully();
            }
          };
      Services.securityRegistry().setAuthenticatorProvider(in -> who);
      Services.securityRegistry().setAuthorizerProvider(in -> what);
    }

    private static void who(SimpleAuthInput in, SimpleAuthOutput out) {
      var connect = in.getConnectPacket();
      String password =
          connect.getPassword().map(b -> StandardCharsets.UTF_8.decode(b).toString()).orElse("");
      if (connect.getUserName().isPresent() && !password.equals(PASSWORD)) {
        out.failAuthentication();
      } else {
        out.authenticateSuccessfully();
      }
    }

    @Override
    public void extensionStop(ExtensionStopInput input, ExtensionStopOutput output) {
      // it holds nothing
    }
  }
}
