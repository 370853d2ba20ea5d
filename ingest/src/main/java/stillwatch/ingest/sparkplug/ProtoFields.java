package stillwatch.ingest.sparkplug;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.zip.DataFormatException;

/**
 * The fields of one message in the wire format of Protocol Buffers (protobuf.dev, Encoding), one at
 * a time. Not thread-safe.
 */
final class ProtoFields {
  private static final int VARINT = 0;
  private static final int FIXED64 = 1;
  private static final int BYTES = 2;
  private static final int FIXED32 = 5;

  private final ByteBuffer in;
  private int field;
  private long number;
  private ByteBuffer bytes = ByteBuffer.allocate(0);

  ProtoFields(ByteBuffer message) {
    in = message.slice().order(ByteOrder.LITTLE_ENDIAN);
  }

  /**
   * Moves to the next field; false at the end.
   *
   * @throws DataFormatException when the bytes are no such message
   */
  boolean next() throws DataFormatException {
    if (!in.hasRemaining()) {
      return false;
    }
    long tag = varint();
    field = (int) (tag >>> 3);
    number = 0;
    bytes = ByteBuffer.allocate(0);
    switch ((int) (tag & 7)) {
      case VARINT -> number = varint();
      case FIXED64 -> number = room(8).getLong();
      case FIXED32 -> number = Integer.toUnsignedLong(room(4).getInt());
      case BYTES -> bytes = bytes();
      default -> throw new DataFormatException("a field has the unknown wire type " + (tag & 7));
    }
    return true;
  }

  private ByteBuffer bytes() throws DataFormatException {
    long length = varint();
    if (length < 0 || length > in.remaining()) {
      throw new DataFormatException("a field is longer than the message");
    }
    ByteBuffer part = in.slice().limit((int) length);
    in.position(in.position() + (int) length);
    return part;
  }

  private ByteBuffer room(int length) throws DataFormatException {
    if (in.remaining() < length) {
      throw new DataFormatException("the message breaks off");
    }
    return in;
  }

  private long varint() throws DataFormatException {
    long value = 0;
    for (int shift = 0; shift < 64; shift += 7) {
      byte b = room(1).get();
      value |= (long) (b & 0x7f) << shift;
      if (b >= 0) {
        return value;
      }
    }
    throw new DataFormatException("a number is longer than ten bytes");
  }

  /** The number of the field. */
  int field() {
    return field;
  }

  /** Its value where it is a number: the bits, without sign. */
  long number() {
    return number;
  }

  /** Its value where it is a message. */
  ProtoFields message() {
    return new ProtoFields(bytes);
  }

  /** Its value where it is a text. */
  String text() {
    return StandardCharsets.UTF_8.decode(bytes.duplicate()).toString();
  }
}
