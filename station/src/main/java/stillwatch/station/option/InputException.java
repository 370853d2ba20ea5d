package stillwatch.station.option;

/** What the user gave is wrong; the message says what, where and how to mend it. */
public final class InputException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** With a sentence: what is wrong, where, and how to mend it. */
  public InputException(String message) {
    super(message);
  }
}
