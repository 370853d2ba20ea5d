package stillwatch.station.option;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.UnknownHostException;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;
import stillwatch.alerts.room.RoomException;

/** Where a command listens for HTTP. */
public final class ListenOption {
  private static final int STANDARD = 8480;

  @Option(
      names = "--http",
      paramLabel = "PORT",
      description =
          "The HTTP port; 0 takes a free one. Default: 8480, or a free one where that is taken.")
  private @Nullable Integer port;

  @Option(
      names = "--bind",
      paramLabel = "ADDRESS",
      description = "The address to listen on. Default: this machine only (127.0.0.1).")
  private String address = "127.0.0.1";

  /** The addresses to try, in order. */
  private InetSocketAddress[] addresses() {
    if (port != null && (port < 0 || port > 65_535)) {
      throw new InputException("--http " + port + ": a port lies between 0 and 65535");
    }
    try {
      InetAddress at = InetAddress.getByName(address);
      return port == null
          ? new InetSocketAddress[] {
            new InetSocketAddress(at, STANDARD), new InetSocketAddress(at, 0)
          }
          : new InetSocketAddress[] {new InetSocketAddress(at, port)};
    } catch (UnknownHostException e) {
      throw new InputException(
          "--bind " + address + ": there is no such address; give one of this machine's");
    }
  }

  /** Opens something at an address. */
  public interface Opener<T> {
    /**
     * Opens it.
     *
     * @throws IOException when it cannot listen there
     * @throws RoomException the same
     */
    T at(InetSocketAddress address) throws IOException;
  }

  /** What opens at the first of the addresses that can be had. */
  public <T> T first(Opener<T> opener) {
    InetSocketAddress[] all = addresses();
    for (InetSocketAddress candidate : all) {
      try {
        return opener.at(candidate);
      } catch (IOException | RoomException e) {
        // the next address is meant for this case
      }
    }
    throw new InputException(
        "cannot listen at "
            + all[all.length - 1]
            + ": the port is taken or the address is not this machine's; give another with --http");
  }

  /** Whether only this machine can reach it. */
  public boolean loopback() {
    return addresses()[0].getAddress().isLoopbackAddress();
  }

  /** How a browser on this machine reaches that port. */
  public String url(int openPort) {
    InetAddress at = addresses()[0].getAddress();
    String host = at.isAnyLocalAddress() ? "127.0.0.1" : at.getHostAddress();
    return "http://" + (host.contains(":") ? "[" + host + "]" : host) + ":" + openPort + "/";
  }
}
