package stillwatch.station.option;

import java.nio.file.Path;
import nl.altindag.ssl.SSLFactory;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;
import stillwatch.ingest.entrance.Trust;

/** Whom this process trusts when it calls others over TLS. */
public final class TrustOption {
  @Option(
      names = "--trust",
      paramLabel = "FILE",
      description =
          "Certificates (PEM) of authorities that it trusts, besides those that Java trusts, where it calls others over TLS: routes, sources, a receiver of metrics.")
  private @Nullable Path authorities;

  private @Nullable Trust made;

  /**
   * Whom it trusts.
   *
   * @throws InputException when the file of authorities holds no certificate
   */
  public Trust outgoing() {
    Trust known = made;
    if (known == null) {
      SSLFactory.Builder trusting = SSLFactory.builder().withDefaultTrustMaterial();
      if (authorities != null) {
        trusting.withTrustMaterial(PemFiles.certificates(authorities));
      }
      SSLFactory built = trusting.build();
      known =
          new Trust(
              built.getSslContext(),
              built
                  .getTrustManagerFactory()
                  .orElseThrow(() -> new IllegalStateException("a factory with trust has one")));
      made = known;
    }
    return known;
  }
}
