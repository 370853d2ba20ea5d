package stillwatch.station.option;

import java.net.URI;
import java.net.URISyntaxException;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** Where a process sends its metrics besides answering {@code GET /metrics}. */
public final class MetricsOption {
  private static final String PATH = "/v1/metrics";

  @Option(
      names = "--otlp",
      paramLabel = "URL",
      description =
          "Also sends its metrics every minute to this OpenTelemetry receiver by OTLP over HTTP, for example http://127.0.0.1:4318 (docs/monitoring).")
  private @Nullable String receiver;

  /**
   * The address that takes metrics by OTLP over HTTP; empty where none is named.
   *
   * @throws InputException when the address is none of HTTP
   */
  public Optional<URI> receiver() {
    return Optional.ofNullable(receiver).map(MetricsOption::address);
  }

  /**
   * The address for metrics below the one of the receiver, as "OpenTelemetry Protocol Exporter",
   * "Endpoint URLs for OTLP/HTTP", has it. Whoever gives it whole is understood as well.
   */
  private static URI address(String receiver) {
    try {
      String text = receiver.replaceAll("/+$", "");
      URI address = new URI(text.endsWith(PATH) ? text : text + PATH);
      if (address.getHost() != null && String.valueOf(address.getScheme()).matches("https?")) {
        return address;
      }
    } catch (URISyntaxException e) { // told below
    }
    throw new InputException(
        "--otlp "
            + receiver
            + ": no address of a receiver; give one such as http://127.0.0.1:4318");
  }
}
