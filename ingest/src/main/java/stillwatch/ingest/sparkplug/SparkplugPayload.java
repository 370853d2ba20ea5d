package stillwatch.ingest.sparkplug;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.zip.DataFormatException;

/**
 * What one message of an edge node says (Eclipse Sparkplug 3.0, chapter 6).
 *
 * @param atMs when it was sent, ms since 1970 UTC
 * @param seq its number among the node's messages, 0 to 255; a death has none
 */
public record SparkplugPayload(OptionalLong atMs, OptionalInt seq, List<SparkplugMetric> metrics) {
  private static final String REBIRTH = "Node Control/Rebirth";
  private static final int BOOLEAN = 11;

  /**
   * Reads one.
   *
   * @throws DataFormatException when it is none
   */
  public static SparkplugPayload read(byte[] message) throws DataFormatException {
    ProtoFields in = new ProtoFields(ByteBuffer.wrap(message));
    OptionalLong atMs = OptionalLong.empty();
    OptionalInt seq = OptionalInt.empty();
    List<SparkplugMetric> metrics = new ArrayList<>();
    while (in.next()) {
      switch (in.field()) {
        case 1 -> atMs = OptionalLong.of(in.number());
        case 2 -> metrics.add(SparkplugMetric.of(in.message()));
        case 3 -> seq = OptionalInt.of((int) in.number());
        default -> {} // uuid and body say nothing of readings
      }
    }
    return new SparkplugPayload(atMs, seq, List.copyOf(metrics));
  }

  /** The number of the birth that this birth or death belongs to; empty where it says none. */
  public OptionalLong birth() {
    return metrics.stream()
        .filter(m -> m.name().equals("bdSeq"))
        .mapToLong(SparkplugMetric::bits)
        .findFirst();
  }

  /**
   * The command that asks an edge node to say again what it has (6.4.23).
   *
   * @param atMs now, ms since 1970 UTC
   */
  public static byte[] askForRebirth(long atMs) {
    ByteArrayOutputStream metric = new ByteArrayOutputStream();
    bytes(metric, 1, REBIRTH.getBytes(StandardCharsets.UTF_8));
    number(metric, 3, atMs);
    number(metric, 4, BOOLEAN);
    number(metric, 14, 1);
    ByteArrayOutputStream payload = new ByteArrayOutputStream();
    number(payload, 1, atMs);
    bytes(payload, 2, metric.toByteArray());
    return payload.toByteArray();
  }

  private static void bytes(ByteArrayOutputStream out, int field, byte[] value) {
    varint(out, (field << 3) | 2);
    varint(out, value.length);
    out.writeBytes(value);
  }

  private static void number(ByteArrayOutputStream out, int field, long value) {
    varint(out, (long) field << 3);
    varint(out, value);
  }

  private static void varint(ByteArrayOutputStream out, long value) {
    long left = value;
    for (; left >>> 7 != 0; left >>>= 7) {
      out.write((int) ((left & 0x7f) | 0x80));
    }
    out.write((int) left);
  }
}
