package stillwatch.bench.faults;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.DataInputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.net.Socket;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/** As much of an MQTT 3.1.1 broker as one who only publishes at least once needs. */
final class MqttPeer extends SocketPeer {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int CONNECT = 1;
  private static final int PUBLISH = 3;
  private static final int PINGREQ = 12;
  private static final int DISCONNECT = 14;
  private static final int DUP = 8;
  private static final int QOS = 6;

  MqttPeer() throws IOException {}

  @Override
  void talk(Socket with) {
    try (with;
        DataInputStream in = new DataInputStream(with.getInputStream())) {
      OutputStream out = with.getOutputStream();
      for (int first = in.read(); first >= 0 && first >> 4 != DISCONNECT; first = in.read()) {
        byte[] rest = new byte[length(in)];
        in.readFully(rest);
        switch (first >> 4) {
          case CONNECT -> say(out, 0x20, 2, 0, 0); // CONNACK
          case PUBLISH -> take(first, rest, out);
          case PINGREQ -> say(out, 0xd0, 0);
          default -> throw new IOException("not expected: " + first);
        }
      }
    } catch (IOException e) {
      return; // the line is cut: what was not taken whole is not taken
    }
  }

  /** The remaining length, seven bits a byte (2.2.3). */
  private static int length(DataInputStream in) throws IOException {
    int length = 0;
    int shift = 0;
    int next;
    do {
      next = in.readUnsignedByte();
      length |= (next & 0x7f) << shift;
      shift += 7;
    } while (next > 0x7f);
    return length;
  }

  private void take(int first, byte[] rest, OutputStream out) throws IOException {
    int topicEnds = 2 + ByteBuffer.wrap(rest).getShort();
    String topic = new String(rest, 2, topicEnds - 2, StandardCharsets.UTF_8);
    boolean answers = (first & QOS) > 0;
    int begins = topicEnds + (answers ? 2 : 0);
    if (topic.endsWith("/alerts")) {
      JsonNode event = JSON.readTree(Arrays.copyOfRange(rest, begins, rest.length));
      boolean marked = event.path("attempt").asInt() > 1 || (first & DUP) > 0;
      received().took(event.path("id").asText(), marked);
    }
    if (answers) {
      say(out, 0x40, 2, rest[topicEnds], rest[topicEnds + 1]); // PUBACK
    }
  }

  private static void say(OutputStream out, int... bytes) throws IOException {
    byte[] all = new byte[bytes.length];
    for (int i = 0; i < all.length; i++) {
      all[i] = (byte) bytes[i];
    }
    out.write(all);
    out.flush();
  }
}
