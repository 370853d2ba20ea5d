package stillwatch.bench.entrance;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.ByteBuffer;
import java.nio.channels.SocketChannel;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * Clients that send a byte a second, and come again when they are cut off. One thread runs them.
 */
final class SlowClients implements Runnable {
  private static final byte[] HEAD = "GET / HTTP/1.1\r\nX: ".getBytes(StandardCharsets.US_ASCII);
  private static final byte[] BODY =
      "POST /telemetry HTTP/1.1\r\nHost: localhost\r\nContent-Length: 9000\r\n\r\n{"
          .getBytes(StandardCharsets.US_ASCII);
  private static final long ROUND_MS = 1000;
  private static final String TOO_SLOW = "408";

  private final InetSocketAddress door;
  private final SocketChannel[] clients;
  private final Figures figures;
  private final CountDownLatch toldTooSlow = new CountDownLatch(1);
  private volatile boolean over;

  SlowClients(int port, int count, Figures figures) {
    door = new InetSocketAddress(InetAddress.getLoopbackAddress(), port);
    clients = new SocketChannel[count];
    this.figures = figures;
  }

  @Override
  public void run() {
    try {
      while (!over) {
        for (int i = 0; i < clients.length && !over; i++) {
          try {
            step(i);
          } catch (IOException e) {
            answered(i, "cut");
          }
        }
        Thread.sleep(ROUND_MS);
      }
      for (SocketChannel client : clients) {
        if (client != null) {
          client.close();
        }
      }
    } catch (IOException e) {
      figures.answered("slow clients", e.toString());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void step(int i) throws IOException {
    SocketChannel client = clients[i];
    if (client == null) {
      client = SocketChannel.open(door);
      client.configureBlocking(false);
      clients[i] = client;
      client.write(ByteBuffer.wrap(i % 2 == 0 ? HEAD : BODY));
      return;
    }
    ByteBuffer heard = ByteBuffer.allocate(512);
    int n = client.read(heard);
    if (n > 0) {
      String status = new String(heard.array(), 0, n, StandardCharsets.US_ASCII);
      answered(i, status.substring(Math.min(9, n), Math.min(12, n)));
    } else if (n < 0) {
      answered(i, "closed");
    } else {
      client.write(ByteBuffer.wrap(new byte[] {'x'}));
    }
  }

  private void answered(int i, String how) {
    figures.answered("slow clients", how);
    if (how.equals(TOO_SLOW)) {
      toldTooSlow.countDown();
    }
    SocketChannel client = clients[i];
    clients[i] = null;
    try {
      if (client != null) {
        client.close();
      }
    } catch (IOException e) {
      figures.answered("slow clients", "not closed");
    }
  }

  /** Waits until one of them has been told that it is too slow, then ends them all. */
  void end(long patienceS) throws InterruptedException {
    figures.answered(
        "a slow client was told so", "" + toldTooSlow.await(patienceS, TimeUnit.SECONDS));
    over = true;
  }
}
