package stillwatch.fieldbus;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/** A cable between a source and a server on this machine, which can be cut and holds again. */
public final class Cable implements AutoCloseable {
  private final ServerSocket end = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
  private final List<Socket> open = new CopyOnWriteArrayList<>();
  private final int to;
  private volatile boolean held;

  public Cable(int to) throws IOException {
    this.to = to;
    start(this::join);
  }

  /** A port that nobody listens at. */
  public static int freePort() throws IOException {
    try (ServerSocket s = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      return s.getLocalPort();
    }
  }

  private static void start(Runnable what) {
    Thread thread = new Thread(what, "cable");
    thread.setDaemon(true);
    thread.start();
  }

  public int port() {
    return end.getLocalPort();
  }

  private void join() {
    while (!end.isClosed()) {
      try {
        Socket near = end.accept();
        if (held) {
          near.close();
          continue;
        }
        Socket far = new Socket(InetAddress.getLoopbackAddress(), to);
        open.add(near);
        open.add(far);
        start(() -> carry(near, far));
        start(() -> carry(far, near));
      } catch (IOException e) {
        // the server is away, or the test is over
      }
    }
  }

  private static void carry(Socket from, Socket into) {
    byte[] some = new byte[4096];
    try (from;
        into;
        InputStream in = from.getInputStream();
        OutputStream out = into.getOutputStream()) {
      for (int n = in.read(some); n >= 0; n = in.read(some)) {
        out.write(some, 0, n);
        out.flush();
      }
    } catch (IOException e) {
      // cut
    }
  }

  /** Cuts it, and lets no new connection be made. */
  public void hold() {
    held = true;
    cut();
  }

  /** New connections can be made again. */
  public void release() {
    held = false;
  }

  /** Cuts whatever goes through it now. */
  public void cut() {
    for (Socket s : open) {
      try {
        s.setSoLinger(true, 0); // at once, and without farewell
        s.close();
      } catch (IOException e) {
        // it was closed already
      }
    }
    open.clear();
  }

  @Override
  public void close() throws IOException {
    end.close();
    cut();
  }
}
