package stillwatch.ingest.door;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import javax.net.ssl.KeyManagerFactory;
import nl.altindag.ssl.exception.GenericException;
import nl.altindag.ssl.pem.util.PemUtils;
import nl.altindag.ssl.util.KeyManagerUtils;

/** With what a source shows who it is over TLS. */
final class ClientKey {
  private ClientKey() {}

  /**
   * Reads it.
   *
   * @param certificate PEM file of a certificate and those above it, its own first
   * @param key PEM file of the certificate's private key, without a passphrase
   * @throws IOException when they do not hold that
   */
  static KeyManagerFactory of(Path certificate, Path key) throws IOException {
    for (Path file : new Path[] {certificate, key}) {
      if (!Files.isReadable(file)) {
        throw new IOException(file + " cannot be read: there is none, or it may not be read");
      }
    }
    try {
      return KeyManagerUtils.createKeyManagerFactory(
          PemUtils.loadIdentityMaterial(certificate, key));
    } catch (GenericException | IllegalArgumentException e) {
      throw new IOException(
          certificate
              + " and "
              + key
              + " hold no certificate and its private key in PEM form without a passphrase",
          e);
    }
  }
}
