package stillwatch.bench.faults;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;

/**
 * A wire between a route and its peer on this machine. At its near end nobody may listen, or
 * somebody takes every connection and nothing goes through. Safe from any thread.
 */
final class Wire implements Closeable {
  private final int to;
  private final int port;
  private final List<Socket> open = new CopyOnWriteArrayList<>();
  private ServerSocket end;
  private boolean hangs;

  Wire(int to) throws IOException {
    this.to = to;
    end = listen(0);
    port = end.getLocalPort();
  }

  static void start(Runnable what) {
    Thread thread = new Thread(what, "peer");
    thread.setDaemon(true);
    thread.start();
  }

  /** Gives each connection a thread, until the socket is closed. */
  static void serve(ServerSocket end, Consumer<Socket> talk) {
    while (!end.isClosed()) {
      try {
        Socket with = end.accept();
        start(() -> talk.accept(with));
      } catch (IOException e) {
        // the socket is closed, or one who called is gone already
      }
    }
  }

  private ServerSocket listen(int at) throws IOException {
    ServerSocket made = new ServerSocket();
    made.setReuseAddress(true);
    made.bind(new InetSocketAddress(InetAddress.getLoopbackAddress(), at), 50);
    start(() -> serve(made, this::join));
    return made;
  }

  /** The port of its near end. */
  int port() {
    return port;
  }

  private void join(Socket near) {
    try {
      Socket far = new Socket(InetAddress.getLoopbackAddress(), to);
      open.add(near);
      open.add(far);
      start(() -> carry(near, far));
      carry(far, near);
    } catch (IOException e) {
      // the peer is being closed
    }
  }

  private void carry(Socket from, Socket into) {
    byte[] some = new byte[8192];
    try (from;
        into;
        InputStream in = from.getInputStream();
        OutputStream out = into.getOutputStream()) {
      for (int n = in.read(some); n >= 0; n = in.read(some)) {
        through();
        out.write(some, 0, n);
        out.flush();
      }
    } catch (IOException e) {
      // cut
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      open.removeAll(List.of(from, into));
    }
  }

  private synchronized void through() throws InterruptedException {
    while (hangs) {
      wait();
    }
  }

  /** Whether what is sent from now on waits, connections as they are. */
  synchronized void hang(boolean is) {
    hangs = is;
    notifyAll();
  }

  /** Nobody listens any more, and what goes through it is cut. */
  synchronized void leave() throws IOException {
    end.close();
    for (Socket s : open) {
      s.close();
    }
  }

  /** Somebody listens again. */
  synchronized void comeBack() throws IOException {
    end = listen(port);
  }

  @Override
  public void close() throws IOException {
    hang(false);
    leave();
  }
}
