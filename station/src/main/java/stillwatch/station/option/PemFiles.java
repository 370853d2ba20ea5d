package stillwatch.station.option;

import java.nio.file.Files;
import java.nio.file.Path;
import java.security.cert.X509Certificate;
import java.util.List;
import nl.altindag.ssl.exception.GenericException;
import nl.altindag.ssl.pem.util.PemUtils;

/** What the files of options hold. */
final class PemFiles {
  private PemFiles() {}

  /**
   * The certificates of a file, at least one.
   *
   * @throws InputException when it holds none
   */
  static List<X509Certificate> certificates(Path file) {
    List<X509Certificate> found = List.of();
    try {
      found = PemUtils.loadCertificate(readable(file));
    } catch (GenericException e) {
      // it holds none
    }
    if (found.isEmpty()) {
      throw new InputException(
          file + " holds no certificate in PEM form (-----BEGIN CERTIFICATE-----)");
    }
    return found;
  }

  /**
   * The file, which can be read.
   *
   * @throws InputException when it cannot
   */
  static Path readable(Path file) {
    if (!Files.isReadable(file)) {
      throw new InputException(
          file + " cannot be read: there is no such file, or it may not be read");
    }
    return file;
  }
}
