package stillwatch.rules.watch;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** Identities: the first hex digits of a SHA-256 over texts, each ended by a zero byte. */
final class Hashes {
  private Hashes() {}

  static String hex(int digits, String... parts) {
    try {
      MessageDigest sha = MessageDigest.getInstance("SHA-256");
      for (String part : parts) {
        sha.update(part.getBytes(StandardCharsets.UTF_8));
        sha.update((byte) 0);
      }
      return HexFormat.of().formatHex(sha.digest()).substring(0, digits);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("this Java lacks SHA-256, which every Java must have", e);
    }
  }
}
