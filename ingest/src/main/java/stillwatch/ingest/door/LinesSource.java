package stillwatch.ingest.door;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.SocketException;
import java.net.SocketTimeoutException;
import java.net.StandardSocketOptions;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;
import jdk.net.ExtendedSocketOptions;
import stillwatch.ingest.intake.Refusal;
import stillwatch.ingest.intake.Refusal.Reason;

/**
 * Takes readings from lines that somebody sends over TCP or a serial line. Nobody is told that they
 * came: while one cannot be kept nothing more is read, and the sender waits as long as it can.
 */
final class LinesSource implements Source {
  private static final int CONNECT_MS = 10_000;
  private static final int LOOK_MS = 200;
  private static final int MOST_SENDERS = 32;
  private static final int QUIET_S = 20;

  private final LinesPlan plan;
  private final Inlet inlet;
  private final Attempts attempts;
  private final LineReadings readings;
  private final Set<Closeable> open = ConcurrentHashMap.newKeySet();

  LinesSource(LinesPlan plan, Inlet inlet) {
    this.plan = plan;
    this.inlet = inlet;
    attempts = new Attempts(inlet);
    readings = new LineReadings(plan, inlet);
  }

  @Override
  public void run() {
    attempts.run(this::once);
  }

  private boolean once() throws InterruptedException {
    LinesPlan.Link link = plan.link();
    if (link instanceof LinesPlan.Connect to) {
      return connect(to);
    }
    return link instanceof LinesPlan.Listen at
        ? listen(at)
        : device(((LinesPlan.Device) link).path());
  }

  private boolean connect(LinesPlan.Connect to) throws InterruptedException {
    boolean there = false;
    try (Socket socket = new Socket()) {
      open.add(socket);
      socket.connect(new InetSocketAddress(to.host(), to.port()), CONNECT_MS);
      noticeLoss(socket);
      there = true;
      inlet.health().connected();
      read(socket.getInputStream());
      attempts.lost(to.host() + ":" + to.port() + " has ended the connection");
    } catch (IOException | IllegalArgumentException e) {
      attempts.lost(to.host() + ":" + to.port() + " cannot be read: " + e.getMessage());
    } finally {
      open.removeIf(c -> c instanceof Socket s && s.isClosed());
    }
    return there;
  }

  /** Whoever sends says nothing for long; that it is gone without a word is found by asking. */
  private static void noticeLoss(Socket socket) throws SocketException, IOException {
    socket.setOption(StandardSocketOptions.SO_KEEPALIVE, true);
    if (socket.supportedOptions().contains(ExtendedSocketOptions.TCP_KEEPIDLE)) {
      socket.setOption(ExtendedSocketOptions.TCP_KEEPIDLE, QUIET_S);
      socket.setOption(ExtendedSocketOptions.TCP_KEEPINTERVAL, QUIET_S / 4);
      socket.setOption(ExtendedSocketOptions.TCP_KEEPCOUNT, 3);
    }
  }

  private boolean listen(LinesPlan.Listen at) {
    boolean there = false;
    String here = at.host() + ":" + at.port();
    try (ServerSocket server = new ServerSocket()) {
      server.setReuseAddress(true);
      server.setSoTimeout(LOOK_MS);
      server.bind(new InetSocketAddress(at.host(), at.port()));
      there = true;
      attempts.lost("nobody has connected to " + here + " yet");
      while (!attempts.closed()) {
        try {
          welcome(server.accept(), at, here);
        } catch (SocketTimeoutException e) {
          // time to look whether it is closed
        }
      }
    } catch (IOException | IllegalArgumentException e) {
      attempts.lost(here + " cannot be listened at: " + e.getMessage() + "; correct the plan");
    }
    return there;
  }

  private void welcome(Socket sender, LinesPlan.Listen at, String here) throws IOException {
    InetAddress from = sender.getInetAddress();
    boolean allowed = from.isLoopbackAddress() || at.from().contains(from.getHostAddress());
    if (!allowed || open.size() >= MOST_SENDERS) {
      sender.close();
      String why =
          allowed
              ? "there are " + MOST_SENDERS + " senders already"
              : from.getHostAddress() + " is not among 'from' in the plan";
      var unused = inlet.refuse(new byte[0], Refusal.ofLine(Reason.NOT_ALLOWED, why));
      return;
    }
    noticeLoss(sender);
    open.add(sender);
    inlet.health().connected();
    start(
        () -> {
          try (sender) {
            read(sender.getInputStream());
          } catch (IOException e) {
            // it is gone
          } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
          } finally {
            open.remove(sender);
            if (open.isEmpty()) {
              attempts.lost("nobody is connected to " + here);
            }
          }
        });
  }

  private boolean device(Path path) throws InterruptedException {
    CompletableFuture<String> over = new CompletableFuture<>();
    start( // of its own, for a read of a serial line cannot be ended
        () -> {
          try (InputStream in = Files.newInputStream(path)) {
            inlet.health().connected();
            read(in);
            over.complete(path + " has ended");
          } catch (IOException e) {
            over.complete(path + " cannot be read; check that it is there and this user may");
          } catch (InterruptedException e) {
            over.complete(path + " is no longer read");
          }
        });
    while (!attempts.closed() && !over.isDone()) {
      attempts.pause(LOOK_MS);
    }
    attempts.lost(over.getNow(""));
    return true;
  }

  private void start(Runnable reading) {
    Thread thread = new Thread(reading, "source " + inlet.name());
    thread.setDaemon(true);
    thread.start();
  }

  private void read(InputStream in) throws IOException, InterruptedException {
    TextLines lines = new TextLines(in);
    for (List<TextLines.Line> some = lines.next(); !some.isEmpty(); some = lines.next()) {
      keep(some, inlet.nowMs());
    }
  }

  /** Returns once they are kept, whatever the disk says at first. */
  private void keep(List<TextLines.Line> lines, long cameMs) throws InterruptedException {
    while (!attempts.closed()) {
      try {
        Kept.all(lines.stream().map(line -> readings.take(line, cameMs)).toList());
        inlet.health().connected();
        return;
      } catch (IOException e) {
        attempts.lost(String.valueOf(e.getMessage()));
        attempts.pause(LOOK_MS);
      }
    }
  }

  @Override
  public void close() {
    attempts.close();
    for (Closeable each : open) {
      try {
        each.close();
      } catch (IOException e) {
        // it is closed
      }
    }
  }
}
