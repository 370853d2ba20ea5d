package stillwatch.station;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.IntUnaryOperator;

/** A cable between a client and a server on this machine, which can be cut and holds again. */
final class Cable implements AutoCloseable {
  private final ServerSocket end = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
  private final List<Socket> open = new CopyOnWriteArrayList<>();
  private final int to;
  private final AtomicLong left = new AtomicLong(Long.MAX_VALUE);
  private volatile CompletableFuture<Void> byItself = new CompletableFuture<>();

  Cable(int to) throws IOException {
    this.to = to;
    start(this::join);
  }

  private static void start(Runnable what) {
    Thread thread = new Thread(what, "cable");
    thread.setDaemon(true);
    thread.start();
  }

  int port() {
    return end.getLocalPort();
  }

  private void join() {
    while (!end.isClosed()) {
      try {
        Socket near = end.accept();
        Socket far = new Socket(InetAddress.getLoopbackAddress(), to);
        open.add(near);
        open.add(far);
        start(() -> carry(near, far, n -> n));
        start(() -> carry(far, near, this::goThrough));
      } catch (IOException e) {
        // the server is away, or the test is over
      }
    }
  }

  /** Cuts it when the server has sent so many more bytes; done when it is cut. */
  CompletableFuture<Void> cutAfter(long bytes) {
    CompletableFuture<Void> done = new CompletableFuture<>();
    byItself = done;
    left.set(bytes);
    return done;
  }

  private int goThrough(int bytes) {
    long after = left.addAndGet(-bytes);
    return after > 0 ? bytes : Math.max(0, (int) (bytes + after));
  }

  private void carry(Socket from, Socket into, IntUnaryOperator through) {
    byte[] some = new byte[4096];
    try (from;
        into;
        InputStream in = from.getInputStream();
        OutputStream out = into.getOutputStream()) {
      for (int n = in.read(some); n >= 0; n = in.read(some)) {
        int go = through.applyAsInt(n);
        out.write(some, 0, go);
        out.flush();
        if (go < n) {
          left.set(Long.MAX_VALUE);
          cut();
          byItself.complete(null);
        }
      }
    } catch (IOException e) {
      // cut
    }
  }

  /** Cuts whatever goes through it now. */
  void cut() {
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
