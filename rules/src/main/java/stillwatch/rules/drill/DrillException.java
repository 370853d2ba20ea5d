package stillwatch.rules.drill;

/** A scenario cannot be used; the message says what, where and how to mend it. */
public final class DrillException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  DrillException(String message) {
    super(message);
  }

  DrillException(String message, Throwable cause) {
    super(message, cause);
  }
}
