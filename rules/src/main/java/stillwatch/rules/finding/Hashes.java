package stillwatch.rules.finding;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.HexFormat;
import stillwatch.ingest.intake.Sha256;

/** Identities: the first hex digits of a SHA-256. */
public final class Hashes {
  private Hashes() {}

  /** Of texts, each ended by a zero byte, so that where one ends and the next begins counts too. */
  public static String hex(int digits, String... parts) {
    MessageDigest sha = Sha256.digest();
    for (String part : parts) {
      sha.update(part.getBytes(StandardCharsets.UTF_8));
      sha.update((byte) 0);
    }
    return first(digits, sha);
  }

  /** Of bytes. */
  public static String hex(int digits, byte[] bytes) {
    MessageDigest sha = Sha256.digest();
    sha.update(bytes);
    return first(digits, sha);
  }

  /** Of a file's content. */
  public static String hex(int digits, Path file) throws IOException {
    MessageDigest sha = Sha256.digest();
    byte[] chunk = new byte[1 << 16];
    try (InputStream in = Files.newInputStream(file)) {
      for (int n = in.read(chunk); n >= 0; n = in.read(chunk)) {
        sha.update(chunk, 0, n);
      }
    }
    return first(digits, sha);
  }

  private static String first(int digits, MessageDigest sha) {
    return HexFormat.of().formatHex(sha.digest()).substring(0, digits);
  }
}
