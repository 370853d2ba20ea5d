package stillwatch.station.option;

import java.util.Optional;
import java.util.function.Supplier;
import javax.net.ssl.SSLContext;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.ingest.entrance.Trust;

/** Where the room is, and who may enter. */
public final class RoomOption {
  @Mixin private ListenOption listen = new ListenOption();
  @Mixin private TlsOption tls = new TlsOption();

  @Option(
      names = "--open",
      description =
          "Needs no login; on this machine's own address only. For exercises: the record then knows no names.")
  private boolean open;

  /** Where it listens. */
  public ListenOption listen() {
    return listen;
  }

  /** What it speaks TLS with; null without. */
  public @Nullable SSLContext tls() {
    return tls.context();
  }

  /** What alerts that go out speak TLS with. */
  public Trust outgoing() {
    return tls.outgoing();
  }

  /** How a browser on this machine reaches that port. */
  public String url(int openPort) {
    String plain = listen.url(openPort);
    return tls.given() ? plain.replaceFirst("^http:", "https:") : plain;
  }

  /**
   * Makes sure that a room can be opened this way.
   *
   * @throws InputException when not
   */
  public void check() {
    boolean asks = !open();
    SSLContext secrets = tls();
    Trust unused = outgoing();
    if (asks && secrets == null && !listen.loopback()) {
      System.err.println(
          "warning: passwords go over the network in plain HTTP; give --tls-cert and --tls-key, or put a proxy that speaks TLS in front");
    }
  }

  /**
   * Whether nobody is asked who they are.
   *
   * @throws InputException when the room would be open to other machines
   */
  public boolean open() {
    if (open && !listen.loopback()) {
      throw new InputException(
          "a room without login listens on 127.0.0.1 only; leave out --bind, or --open and --demo");
    }
    return open;
  }

  /** Asks nobody. */
  public void beOpen() {
    open = true;
  }

  /**
   * Tells who may enter: everybody, whoever has the link, or those known.
   *
   * @param firstLink makes the secret of the first administrator's link; empty once there is one
   */
  public void sayWhoMayEnter(Supplier<Optional<String>> firstLink, int openPort) {
    if (open) {
      System.out.println(
          "Open to everybody on this machine: nobody is asked who they are, and the record knows no names.");
    } else {
      firstLink
          .get()
          .ifPresent(
              link ->
                  System.out.println(
                      "Nobody can enter yet. The first administrator enters here, once, within a day: "
                          + url(openPort)
                          + "#enter="
                          + link));
    }
    System.out.flush();
  }
}
