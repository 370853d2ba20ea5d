package stillwatch.alerts.room;

/** The room cannot be opened; the message says why and how to mend it. */
public final class RoomException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** A fault told in one sentence, with its cause. */
  public RoomException(String message, Throwable cause) {
    super(message, cause);
  }
}
