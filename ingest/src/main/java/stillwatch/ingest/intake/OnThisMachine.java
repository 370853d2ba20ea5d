package stillwatch.ingest.intake;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.Optional;

/**
 * Who may send where the plan opens telemetry: whoever is known, as ever, and readings from anybody
 * on this machine who names nobody. What people did and decided wants a token all the same.
 *
 * @param known who is known
 */
public record OnThisMachine(Senders known) implements Senders {
  @Override
  public Optional<Sender> of(String authorization, String address) {
    return known.of(authorization, address);
  }

  @Override
  public Optional<Sender> nameless(String authorization, String address) {
    return authorization.isEmpty() && loopback(address)
        ? Optional.of(new Sender(address, false))
        : Optional.empty();
  }

  /** Whether an address, or what a name stands for, is this machine's own. */
  public static boolean loopback(String address) {
    try {
      return InetAddress.getByName(address).isLoopbackAddress();
    } catch (UnknownHostException e) {
      return false;
    }
  }
}
