package stillwatch.rules.tune;

/** Labels that cannot be used; the message says what, where and how to mend it. */
public final class LabelException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** Says why. */
  public LabelException(String message) {
    super(message);
  }

  /** Says why, and what was behind it. */
  public LabelException(String message, Throwable cause) {
    super(message, cause);
  }
}
