package stillwatch.alerts.room;

/** A request the room does not accept; the message says what to send instead. */
final class RequestException extends RuntimeException {
  private static final long serialVersionUID = 1L;
  private final int status;

  RequestException(int status, String message) {
    super(message);
    this.status = status;
  }

  int status() {
    return status;
  }
}
