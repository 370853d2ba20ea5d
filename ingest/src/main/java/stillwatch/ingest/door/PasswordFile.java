package stillwatch.ingest.door;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** A password in a file of its own. */
final class PasswordFile {
  private PasswordFile() {}

  /** What it says, read anew at each connection, so that it can be changed. */
  static String read(Path file) throws IOException {
    try {
      return Files.readString(file).strip();
    } catch (IOException e) {
      throw new IOException(
          "the password in " + file + " cannot be read; make the file, and allow this user to", e);
    }
  }
}
