package stillwatch.alerts.journal;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.finding.Hashes;

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
 * @param logMs when that was by the log of an exercise, ms since 1970 UTC; null where the log's
 *     time is this machine's
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
    @Nullable Long logMs,
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
      String body,
      @Nullable Long logMs) {
    List<String> all =
        new ArrayList<>(
            List.of(
                before,
                Long.toString(seq),
                Long.toString(writtenMs),
                well,
                what,
                subject,
                by,
                body));
    if (logMs != null) {
      all.add(Long.toString(logMs));
    }
    ByteArrayOutputStream fields = new ByteArrayOutputStream();
    for (String field : all) {
      byte[] bytes = field.getBytes(StandardCharsets.UTF_8);
      fields.writeBytes(ByteBuffer.allocate(4).putInt(bytes.length).array());
      fields.writeBytes(bytes);
    }
    return Hashes.hex(64, fields.toByteArray());
  }

  /** Whether this entry is unchanged and follows one with this hash and number. */
  public boolean follows(String before, long seqBefore) {
    return seq == seqBefore + 1
        && hash.equals(hash(before, seq, writtenMs, well, what, subject, by, body, logMs));
  }
}
