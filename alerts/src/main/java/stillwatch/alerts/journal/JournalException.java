package stillwatch.alerts.journal;

/** The journal cannot be opened, read or written; the message says which and why. */
public final class JournalException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** A fault told in one sentence, with its cause. */
  public JournalException(String message, Throwable cause) {
    super(message, cause);
  }
}
