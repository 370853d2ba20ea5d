package stillwatch.alerts.journal;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * One entry of the record.
 *
 * @param seq its place, from 1
 * @param writtenMs when it was written, this machine's clock, ms since 1970 UTC
 * @param well the well it is about; empty when about none
 * @param what what happened, for example {@code raised}
 * @param subject whom it happened to: an alarm's id, an alarm point, a person; may be empty
 * @param by who did it; empty when the watch did
 * @param body what there is to say of it
 * @param hash SHA-256 of the hash before and of all of the above, 64 hex digits
 */
public record Entry(
    long seq,
    long writtenMs,
    String well,
    String what,
    String subject,
    String by,
    String body,
    String hash) {
  /** The hash before the first entry. */
  public static final String NOTHING_BEFORE = "0".repeat(64);

  /** The hash that these fields give after another. */
  static String hash(
      String before,
      long seq,
      long writtenMs,
      String well,
      String what,
      String subject,
      String by,
      String body) {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      for (String field :
          new String[] {
            before, Long.toString(seq), Long.toString(writtenMs), well, what, subject, by, body
          }) {
        byte[] bytes = field.getBytes(StandardCharsets.UTF_8);
        digest.update(ByteBuffer.allocate(4).putInt(bytes.length).array());
        digest.update(bytes);
      }
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256 (java.security.MessageDigest)", e);
    }
  }

  /** Whether it follows an entry with this hash and number, unchanged. */
  public boolean follows(String before, long seqBefore) {
    return seq == seqBefore + 1
        && hash.equals(hash(before, seq, writtenMs, well, what, subject, by, body));
  }
}
