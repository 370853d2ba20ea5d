package stillwatch.ingest.door;

import stillwatch.ingest.intake.Refusal;
import stillwatch.ingest.intake.Refusal.Reason;

/** Why no reading can be made of what came. */
final class UnreadableException extends Exception {
  private static final long serialVersionUID = 1L;
  private final transient Refusal refusal;

  UnreadableException(Reason reason, String why) {
    super(why);
    refusal = Refusal.ofLine(reason, why);
  }

  Refusal refusal() {
    return refusal;
  }
}
