package stillwatch.ingest.intake;

import java.util.Optional;

/** Who may send telemetry. Safe from any thread. */
public interface Senders {
  /** What somebody hears who may not send. */
  String FAULT =
      "telemetry wants a token: send the header 'Authorization: Bearer TOKEN'; docs/adapters.md says how to make one";

  /**
   * Who sends; empty for somebody who may not.
   *
   * @param authorization the header {@code Authorization}; empty without
   * @param address where it comes from
   */
  Optional<Sender> of(String authorization, String address);

  /**
   * Who sends when nobody knows them; empty where that is not enough.
   *
   * @param authorization the header {@code Authorization}; empty without
   * @param address where it comes from
   */
  default Optional<Sender> nameless(String authorization, String address) {
    return Optional.empty();
  }

  /** Everybody may send, and tell. */
  static Senders everybody() {
    return (authorization, address) -> Optional.of(new Sender(address, true));
  }

  /** Nobody may send. */
  static Senders nobody() {
    return (authorization, address) -> Optional.empty();
  }
}
