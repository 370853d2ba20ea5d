package stillwatch.ingest.entrance;

import java.util.Optional;
import java.util.function.Function;

/**
 * The memory for bodies of all requests together. Where it is full, the body that has been waited
 * for longest gives way. Safe from any thread.
 */
final class Bodies {
  private final long mostBytes;
  private final Function<Body, Optional<Body>> slowestBut;
  private long heldBytes;

  /**
   * Room for so much.
   *
   * @param slowestBut the body still read that has been waited for longest, but the one given
   */
  Bodies(long mostBytes, Function<Body, Optional<Body>> slowestBut) {
    this.mostBytes = mostBytes;
    this.slowestBut = slowestBut;
  }

  /** Whether there is room for so many more bytes of this body; they then are reserved. */
  boolean reserve(Body body, int bytes) {
    while (!fits(bytes)) {
      Optional<Body> slow = slowestBut.apply(body);
      if (slow.isEmpty()) {
        return false;
      }
      slow.get().refuse(429, full()); // and is not found again
    }
    return true;
  }

  private synchronized boolean fits(int bytes) {
    boolean fits = heldBytes + bytes <= mostBytes;
    heldBytes += fits ? bytes : 0;
    return fits;
  }

  synchronized void release(long bytes) {
    heldBytes -= bytes;
  }

  /** Why a body is refused when there is no room. */
  String full() {
    return "bodies of "
        + mostBytes
        + " bytes in all are being taken; send it again, or send at once what is sent";
  }
}
