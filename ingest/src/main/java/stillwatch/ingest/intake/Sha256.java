package stillwatch.ingest.intake;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;

/** The digest by which things are known again. */
public final class Sha256 {
  private Sha256() {}

  /** One that has taken nothing yet. */
  public static MessageDigest digest() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("this Java lacks SHA-256, which every Java must have", e);
    }
  }
}
