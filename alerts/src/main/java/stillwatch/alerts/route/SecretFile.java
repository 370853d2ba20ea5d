package stillwatch.alerts.route;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Secrets stand in files of their own, never in a plan. */
final class SecretFile {
  private SecretFile() {}

  static String read(Path file) throws DeliveryException {
    try {
      return Files.readString(file).strip();
    } catch (IOException e) {
      throw new DeliveryException("the secret in " + file + " cannot be read");
    }
  }
}
