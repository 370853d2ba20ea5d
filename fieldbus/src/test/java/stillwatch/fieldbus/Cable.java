package stillwatch.fieldbus;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.List;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.IntUnaryOperator;

/** A cable between a source and a server on this machine, which can be cut and holds again. */
public final class Cable implements AutoCloseable {
  private final ServerSocket end = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
  private final List<Socket> open = new CopyOnWriteArrayList<>();
  private final int to;
  private final AtomicLong left = new AtomicLong(Long.MAX_VALUE);
  private final Queue<Long> then = new ConcurrentLinkedQueue<>();
  private final AtomicInteger cuts = new AtomicInteger();
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

  /** How often it has been cut by {@link #cutAfter}. */
  public int cuts() {
    return cuts.get();
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
        start(() -> carry(near, far, n -> n));
        start(() -> carry(far, near, this::goThrough));
      } catch (IOException e) {
        // the server is away, or the test is over
      }
    }
  }

  /** Cuts it when the server has sent so many more bytes; then again after each of these. */
  public void cutAfter(long bytes, long... again) {
    then.clear();
    for (long more : again) {
      then.add(more);
    }
    left.set(bytes);
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
          Long next = then.poll();
          left.set(next == null ? Long.MAX_VALUE : next);
          cuts.incrementAndGet();
          cut();
        }
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
