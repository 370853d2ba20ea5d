package stillwatch.alerts.people;

/** Too many passwords are being checked at this moment; nothing was done. */
public final class BusyException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  BusyException() {
    super("too many people enter at this moment; try again in a second");
  }
}
