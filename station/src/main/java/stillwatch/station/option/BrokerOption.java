package stillwatch.station.option;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.Greeting;
import stillwatch.ingest.bus.KafkaBus;

/** How a command reaches a broker that is not its own. */
public final class BrokerOption {
  private static final Duration PATIENCE = Duration.ofSeconds(20);
  private static final int PARTITIONS = 12;
  private static final int BROKERS_STANDARD = -1;

  @Option(
      names = "--broker",
      paramLabel = "HOST:PORT",
      description = "A Kafka broker; several separated by commas.")
  private @Nullable String broker;

  @Option(
      names = "--client-properties",
      paramLabel = "FILE",
      description = "Kafka client properties, for example for TLS and SASL; passed on untouched.")
  private @Nullable Path properties;

  /**
   * Whether a broker was named.
   *
   * @throws InputException when only properties for one are given
   */
  public boolean given() {
    if (broker == null && properties != null) {
      throw new InputException(
          "--client-properties says how to speak to a broker, and none is named; give --broker HOST:PORT too");
    }
    return broker != null;
  }

  /**
   * The way to the broker that was named, which is not asked for anything yet.
   *
   * @throws InputException when none was named, or it wants TLS and the properties do not speak it
   */
  public Bus later() {
    if (broker == null) {
      throw new InputException("this command needs a broker; give one with --broker HOST:PORT");
    }
    Map<String, String> client = client();
    if (Greeting.wantsTls(broker, client)) {
      throw new InputException(
          "the broker at "
              + broker
              + " wants TLS and this command does not speak it; give a file with security.protocol=SSL or"
              + " SASL_SSL by --client-properties");
    }
    try {
      return KafkaBus.open(new BusSettings(broker, client));
    } catch (IllegalArgumentException e) {
      throw new InputException(
          "--broker "
              + broker
              + ": cannot be used ("
              + e.getMessage()
              + "); give HOST:PORT, for example 127.0.0.1:9092");
    }
  }

  /** The broker that was named, its topics made. */
  public Bus open() {
    Bus bus = later();
    try {
      makeTopics(bus);
    } catch (RuntimeException e) {
      bus.close();
      throw e;
    }
    return bus;
  }

  /**
   * Makes the topics that are missing.
   *
   * @throws InputException when the broker does not answer
   */
  public void makeTopics(Bus bus) {
    bus.fault(PATIENCE)
        .ifPresent(
            why -> {
              throw new InputException(
                  "the broker at "
                      + broker
                      + " does not answer ("
                      + why
                      + "); check that it runs, the address, and --client-properties");
            });
    bus.createTopics(PARTITIONS, BROKERS_STANDARD);
  }

  private Map<String, String> client() {
    try {
      return BusSettings.client(properties);
    } catch (IOException | IllegalArgumentException e) {
      throw new InputException(
          properties
              + ": cannot be read as a properties file; give lines like security.protocol=SSL");
    }
  }
}
