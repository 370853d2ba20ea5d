package stillwatch.ingest.spool;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.zip.CRC32C;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.bus.Message;

/**
 * Numbered messages in a file, one after another, each with its length and checksum before it. One
 * thread writes; others may read what was written before.
 */
final class SpoolFile implements AutoCloseable {
  private static final int HEAD = 8;
  private static final int LONGEST = 16 << 20;

  private final FileChannel channel;
  private long end;

  private SpoolFile(FileChannel channel) {
    this.channel = channel;
  }

  /**
   * A message in the file.
   *
   * @param end where the next one begins, bytes
   */
  record Entry(long number, Message message, long end) {}

  /** Opens a file, or makes it; what a killed process left half written at its end is cut off. */
  static SpoolFile open(Path file) throws IOException {
    SpoolFile opened =
        new SpoolFile(
            FileChannel.open(
                file,
                StandardOpenOption.CREATE,
                StandardOpenOption.READ,
                StandardOpenOption.WRITE));
    for (Entry k = opened.read(0); k != null; k = opened.read(k.end())) {
      opened.end = k.end();
    }
    opened.channel.truncate(opened.end);
    return opened;
  }

  /** Where the next message will begin, bytes. */
  long end() {
    return end;
  }

  void append(long number, Message message) throws IOException {
    byte[] body = encode(number, message);
    ByteBuffer all = ByteBuffer.allocate(HEAD + body.length);
    all.putInt(body.length).putInt(checksum(body)).put(body).flip();
    long at = end;
    while (all.hasRemaining()) {
      at += channel.write(all, at);
    }
    end = at;
  }

  /** Returns when the disk has what was appended. */
  void force() throws IOException {
    channel.force(false);
  }

  /** The message that begins there; null when there is no whole one. */
  @Nullable Entry read(long at) throws IOException {
    ByteBuffer head = ByteBuffer.allocate(HEAD);
    if (!fill(head, at)) {
      return null;
    }
    int length = head.getInt();
    int checksum = head.getInt();
    if (length < 0 || length > LONGEST) {
      return null;
    }
    ByteBuffer body = ByteBuffer.allocate(length);
    if (!fill(body, at + HEAD) || checksum(body.array()) != checksum) {
      return null;
    }
    return decode(body.array(), at + HEAD + length);
  }

  private boolean fill(ByteBuffer into, long at) throws IOException {
    while (into.hasRemaining()) {
      if (channel.read(into, at + into.position()) < 0) {
        return false;
      }
    }
    into.flip();
    return true;
  }

  private static int checksum(byte[] body) {
    CRC32C sum = new CRC32C();
    sum.update(body);
    return (int) sum.getValue();
  }

  private static byte[] encode(long number, Message message) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    DataOutputStream out = new DataOutputStream(bytes);
    out.writeLong(number);
    write(out, message.key());
    out.writeInt(message.headers().size());
    for (Map.Entry<String, String> e : message.headers().entrySet()) {
      write(out, e.getKey());
      write(out, e.getValue());
    }
    out.write(message.value());
    return bytes.toByteArray();
  }

  private static void write(DataOutputStream out, String text) throws IOException {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    out.writeInt(bytes.length);
    out.write(bytes);
  }

  private static Entry decode(byte[] body, long end) throws IOException {
    DataInputStream in = new DataInputStream(new ByteArrayInputStream(body));
    long number = in.readLong();
    String key = text(in);
    Map<String, String> headers = new LinkedHashMap<>();
    for (int left = in.readInt(); left > 0; left--) {
      headers.put(text(in), text(in));
    }
    return new Entry(number, Message.of(key, in.readAllBytes(), headers), end);
  }

  private static String text(DataInputStream in) throws IOException {
    return new String(in.readNBytes(in.readInt()), StandardCharsets.UTF_8);
  }

  @Override
  public void close() throws IOException {
    channel.close();
  }
}
