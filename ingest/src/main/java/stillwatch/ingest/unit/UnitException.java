package stillwatch.ingest.unit;

/** A unit or a quantity is not understood; the message says which, and what would be. */
public final class UnitException extends IllegalArgumentException {
  private static final long serialVersionUID = 1L;

  /** A fault told in one sentence. */
  public UnitException(String message) {
    super(message);
  }
}
