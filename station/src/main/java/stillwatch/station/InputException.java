package stillwatch.station;

/** What the user gave is wrong; the message says what, where and how to mend it. */
final class InputException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  InputException(String message) {
    super(message);
  }
}
