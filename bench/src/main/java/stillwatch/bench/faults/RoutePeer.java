package stillwatch.bench.faults;

import java.io.Closeable;

/** The other side of a route, which is always there; the wire to it is what breaks. */
interface RoutePeer extends Closeable {
  /** The port of this machine at which it listens. */
  int port();

  /** What it got. */
  Received received();
}
