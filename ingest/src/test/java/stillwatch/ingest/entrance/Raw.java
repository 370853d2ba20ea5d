package stillwatch.ingest.entrance;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;

/** A client that speaks as it likes. */
final class Raw implements AutoCloseable {
  private final Socket socket;

  Raw(int port) throws IOException {
    socket = new Socket(InetAddress.getLoopbackAddress(), port);
    socket.setSoTimeout(30_000);
  }

  /** Sends this as it is. */
  Raw says(String text) throws IOException {
    socket.getOutputStream().write(text.getBytes(StandardCharsets.ISO_8859_1));
    return this;
  }

  /** Everything it hears until the other side closes; what was heard, when that is by force. */
  String hears() {
    StringBuilder heard = new StringBuilder();
    try {
      byte[] some = new byte[4096];
      for (int n = socket.getInputStream().read(some);
          n >= 0;
          n = socket.getInputStream().read(some)) {
        heard.append(new String(some, 0, n, StandardCharsets.ISO_8859_1));
      }
    } catch (IOException e) {
      heard.append(" then ").append(e.getMessage());
    }
    return heard.toString();
  }

  @Override
  public void close() throws IOException {
    socket.close();
  }
}
