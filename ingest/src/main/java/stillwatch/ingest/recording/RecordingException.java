package stillwatch.ingest.recording;

/**
 * A recording cannot be read at all; the message says what, where and how to mend it, a line for
 * each mistake.
 */
public final class RecordingException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** Faults told in one sentence a line. */
  public RecordingException(String message) {
    super(message);
  }

  /** A fault told in one sentence, with its cause. */
  public RecordingException(String message, Throwable cause) {
    super(message, cause);
  }
}
