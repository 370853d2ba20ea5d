package stillwatch.rules.engine;

/** A rule failed while it ran: a defect of the rule, never of the readings. */
public final class RuleFault extends RuntimeException {
  private static final long serialVersionUID = 1L;

  RuleFault(String message, Throwable cause) {
    super(message, cause);
  }
}
