package stillwatch.ingest.entrance;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.util.function.Consumer;
import org.eclipse.jetty.io.Content;
import org.eclipse.jetty.server.Request;

/**
 * The body of one request, read as it comes and without a thread that waits for it. What is more
 * than is taken is read and thrown away, so that its sender hears why. Jetty calls it from one
 * thread at a time; {@link #refuse} may be called from any.
 */
final class Body implements Runnable {
  /** Of a body that is refused so much is read before the connection is cut. */
  private static final long THROWN_AWAY = 64L << 20;

  private final Request request;
  private final int most;
  private final Bodies bodies;
  private final Receiver receiver;
  private final Buffer kept = new Buffer();
  private long came;
  private boolean over;

  /** What becomes of a body; exactly one of these is called, once. */
  interface Receiver {
    /** The whole body has come. */
    void whole(ByteBuffer bytes);

    /** The body is refused. */
    void refused(int status, String why);

    /** The sender went away before the whole body had come. */
    void lost(Throwable why);
  }

  Body(Request request, int most, Bodies bodies, Receiver receiver) {
    this.request = request;
    this.most = most;
    this.bodies = bodies;
    this.receiver = receiver;
  }

  @Override
  public void run() {
    while (!isOver()) {
      Content.Chunk chunk = request.read();
      if (chunk == null) {
        request.demand(this);
        return;
      }
      if (Content.Chunk.isFailure(chunk)) {
        Throwable why = chunk.getFailure();
        end(e -> e.lost(why));
        return;
      }
      take(chunk.getByteBuffer());
      boolean last = chunk.isLast();
      chunk.release();
      if (last || came > THROWN_AWAY) {
        whole();
        return;
      }
    }
  }

  private void take(ByteBuffer bytes) {
    int length = bytes.remaining();
    came += length;
    if (came > most) {
      forget();
    } else if (!bodies.reserve(this, length)) {
      refuse(429, bodies.full());
    } else {
      keep(bytes, length);
    }
  }

  private synchronized void keep(ByteBuffer bytes, int length) {
    if (over) {
      bodies.release(length);
      return;
    }
    byte[] copy = new byte[length];
    bytes.get(copy);
    kept.write(copy, 0, length);
  }

  private synchronized void forget() {
    bodies.release(kept.size());
    kept.reset();
  }

  private void whole() {
    if (came > most) {
      refuse(413, "the body is longer than " + most + " bytes; send less at once");
    } else {
      end(e -> e.whole(kept.view()));
    }
  }

  /** Ends it, unless it has come whole already. */
  void refuse(int status, String why) {
    end(
        e -> {
          forget();
          e.refused(status, why);
        });
  }

  private void end(Consumer<Receiver> how) {
    synchronized (this) {
      if (over) {
        return;
      }
      over = true;
    }
    how.accept(receiver);
  }

  /** Whether it has come whole or was refused. */
  synchronized boolean isOver() {
    return over;
  }

  /** What was kept of it is needed no more. */
  void done() {
    forget();
  }

  /** Bytes that are read where they lie. */
  private static final class Buffer extends ByteArrayOutputStream {
    ByteBuffer view() {
      return ByteBuffer.wrap(buf, 0, count);
    }
  }
}
