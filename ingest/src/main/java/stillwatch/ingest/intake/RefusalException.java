package stillwatch.ingest.intake;

/** A refusal of a whole line, as the reader reports it. */
final class RefusalException extends Exception {
  private static final long serialVersionUID = 1L;
  private final transient Refusal refusal;

  RefusalException(Refusal.Reason reason, String why) {
    super(why);
    refusal = Refusal.ofLine(reason, why);
  }

  Refusal refusal() {
    return refusal;
  }
}
