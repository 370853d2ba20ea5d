package stillwatch.ingest.bus;

/** The broker cannot be used; the message says what to check. */
public final class BusException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  BusException(String message, Throwable cause) {
    super(message, cause);
  }
}
