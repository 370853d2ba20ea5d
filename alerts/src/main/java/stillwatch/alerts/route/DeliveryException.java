package stillwatch.alerts.route;

/** A delivery did not succeed; it will be tried again. The message says why. */
public final class DeliveryException extends Exception {
  private static final long serialVersionUID = 1L;

  /** With one sentence. */
  public DeliveryException(String message) {
    super(message);
  }
}
