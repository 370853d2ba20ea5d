package stillwatch.bench.faults;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;

/** The other side of a route that speaks by itself over TCP, each connection in its own thread. */
abstract class SocketPeer implements RoutePeer {
  private final Received received = new Received();
  private final ServerSocket end = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());

  SocketPeer() throws IOException {
    Wire.start(() -> Wire.serve(end, this::talk));
  }

  /** Talks with one who has called, until either ends it. */
  abstract void talk(Socket with);

  @Override
  public final int port() {
    return end.getLocalPort();
  }

  @Override
  public final Received received() {
    return received;
  }

  @Override
  public final void close() throws IOException {
    end.close();
  }
}
