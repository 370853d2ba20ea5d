package stillwatch.rules.book;

/** A catalogue or rule file is wrong; the message says what, where and how to mend it. */
public final class CatalogueException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  /** With one sentence. */
  public CatalogueException(String message) {
    super(message);
  }

  /** With one sentence and what brought it about. */
  public CatalogueException(String message, Throwable cause) {
    super(message, cause);
  }
}
