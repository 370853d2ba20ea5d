package stillwatch.ingest.entrance;

import java.net.InetSocketAddress;
import java.net.SocketAddress;
import java.nio.ByteBuffer;
import java.nio.channels.WritePendingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.LongSupplier;
import java.util.function.Predicate;
import org.eclipse.jetty.io.Connection;
import org.eclipse.jetty.io.EndPoint;
import org.eclipse.jetty.io.ssl.SslConnection;
import org.eclipse.jetty.util.Callback;
import org.jspecify.annotations.Nullable;

/**
 * The connections of a door. A head that takes too long is answered 408. Where too many are open,
 * the one whose head or body has been waited for longest gives way, so that whoever sends at once
 * comes in whatever the others hold open. A connection that is being served never gives way. Safe
 * from any thread.
 */
final class Connections implements Connection.Listener {
  private final Limits limits;
  private final LongSupplier nowNs;
  private final Map<Connection, Held> held = new LinkedHashMap<>();

  /** A connection. It waits for a head, or for a body while it has one, or is served. */
  private static final class Held {
    private final String address;
    private long sinceNs;
    private long bytesBefore;
    private boolean served;
    private boolean working;
    private boolean leaving;
    private @Nullable Body body;

    Held(String address, long nowNs) {
      this.address = address;
      sinceNs = nowNs;
    }

    boolean waitedFor() {
      return !working && !leaving;
    }
  }

  Connections(Limits limits, LongSupplier nowNs) {
    this.limits = limits;
    this.nowNs = nowNs;
  }

  @Override
  public void onOpened(Connection c) {
    if (c instanceof SslConnection) {
      return; // the connection inside it is counted
    }
    String address = address(c);
    boolean full;
    Optional<Connection> giving;
    synchronized (this) {
      long mine = held.values().stream().filter(h -> h.address.equals(address)).count();
      boolean many = mine >= limits.fromOneAddress();
      full = many || held.size() >= limits.connections();
      giving = full ? oldest(h -> !many || h.address.equals(address)) : Optional.empty();
      held.put(c, new Held(address, nowNs.getAsLong()));
    }
    if (giving.isPresent()) {
      end(giving.get(), 429, tooMany());
    } else if (full) {
      end(c, 429, tooMany());
    }
  }

  private String tooMany() {
    return "too many connections: at most "
        + limits.fromOneAddress()
        + " from one address and "
        + limits.connections()
        + " in all";
  }

  private static String address(Connection c) {
    SocketAddress from = c.getEndPoint().getRemoteSocketAddress();
    return from instanceof InetSocketAddress inet && inet.getAddress() != null
        ? inet.getAddress().getHostAddress()
        : String.valueOf(from);
  }

  private Optional<Connection> oldest(Predicate<Held> which) {
    long now = nowNs.getAsLong();
    return held.entrySet().stream()
        .filter(e -> e.getValue().waitedFor() && which.test(e.getValue()))
        .min(Comparator.comparingLong(e -> e.getValue().sinceNs - now))
        .map(Map.Entry::getKey);
  }

  @Override
  public synchronized void onClosed(Connection c) {
    held.remove(c);
  }

  /** The head has come, and this body is read. */
  synchronized void reads(Connection c, Body body) {
    Held h = held.get(c);
    if (h != null) {
      h.body = body;
      h.sinceNs = nowNs.getAsLong();
    }
  }

  /** The request has come whole and is worked. */
  synchronized void works(Connection c) {
    Held h = held.get(c);
    if (h != null) {
      h.body = null;
      h.working = true;
    }
  }

  /** The request has been answered; the next may come. */
  synchronized void waits(Connection c) {
    Held h = held.get(c);
    if (h != null) {
      h.body = null;
      h.working = false;
      h.served = true;
      h.bytesBefore = c.getBytesIn();
      h.sinceNs = nowNs.getAsLong();
    }
  }

  /** The body still read that has been waited for longest, but this one. */
  Optional<Body> slowestBut(Body one) {
    synchronized (this) {
      return oldest(h -> h.body != null && h.body != one && !h.body.isOver())
          .map(c -> held.get(c))
          .map(h -> h.body);
    }
  }

  /** Ends what takes too long. To be called about twice a second. */
  void sweep() {
    List<Connection> slowHeads = new ArrayList<>();
    List<Body> slowBodies = new ArrayList<>();
    synchronized (this) {
      long now = nowNs.getAsLong();
      held.forEach(
          (c, h) -> {
            Body body = h.body;
            if (!h.waitedFor()) {
              return;
            }
            if (body != null && now - h.sinceNs > limits.body().toNanos()) {
              slowBodies.add(body);
            } else if (body == null && h.served && c.getBytesIn() == h.bytesBefore) {
              h.sinceNs = now; // it rests between requests; the idle time ends that
            } else if (body == null && now - h.sinceNs > limits.head().toNanos()) {
              slowHeads.add(c);
            }
          });
    }
    slowBodies.forEach(
        b -> b.refuse(408, "the body did not come within " + limits.body().toSeconds() + " s"));
    slowHeads.forEach(
        c ->
            end(
                c,
                408,
                "the head of the request did not come within " + limits.head().toSeconds() + " s"));
  }

  private void end(Connection c, int status, String why) {
    Body body;
    synchronized (this) {
      Held h = held.get(c);
      if (h == null || h.leaving || h.working) {
        return;
      }
      body = h.body;
      h.leaving = body == null;
    }
    if (body != null) {
      body.refuse(status, why);
      return;
    }
    answerAndClose(c.getEndPoint(), answer(status, why));
  }

  private static byte[] answer(int status, String why) {
    String text = "{\"fault\":\"" + why + "\"}";
    String answer =
        "HTTP/1.1 "
            + status
            + (status == 408 ? " Request Timeout" : " Too Many Requests\r\nRetry-After: 1")
            + "\r\nContent-Type: application/json\r\nConnection: close\r\nContent-Length: "
            + text.length()
            + "\r\n\r\n"
            + text;
    return answer.getBytes(StandardCharsets.US_ASCII);
  }

  private static void answerAndClose(EndPoint to, byte[] answer) {
    try {
      to.write(Callback.from(to::close, to::close), ByteBuffer.wrap(answer));
    } catch (WritePendingException e) { // its request has come whole at this moment
      to.close();
    }
  }
}
