package stillwatch.alerts.route;

import java.security.GeneralSecurityException;

/** A delivery did not succeed; it will be tried again. The message says why. */
public final class DeliveryException extends Exception {
  private static final long serialVersionUID = 1L;

  /** A sentence that says why. */
  public DeliveryException(String message) {
    super(message);
  }

  /** What did not work, and for what reason; of a certificate also how to mend it. */
  static DeliveryException because(String what, Exception reason) {
    String says = reason.getClass().getSimpleName();
    boolean untrusted = false;
    for (Throwable t = reason; t != null; t = t.getCause()) {
      says = t.getMessage() == null ? says : t.getMessage();
      untrusted |= t instanceof GeneralSecurityException;
    }
    return new DeliveryException(
        untrusted
            ? what
                + ": its certificate is not trusted here ("
                + says
                + "); give that of its authority with --trust, or correct the certificate"
            : what + ": " + says);
  }
}
