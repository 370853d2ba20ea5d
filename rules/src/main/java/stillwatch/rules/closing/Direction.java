package stillwatch.rules.closing;

import java.util.List;
import java.util.Locale;
import stillwatch.rules.plan.ClosingStep;
import stillwatch.rules.plan.Plan;

/** Which way the steps of a list go. */
public enum Direction {
  /** The outlets are closed one by one. */
  CLOSING,
  /** They are opened again. */
  OPENING;

  /** The name in rules and for people, for example {@code opening}. */
  public String wire() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The plan's list of these steps; empty where it has none. */
  List<ClosingStep> list(Plan plan) {
    return this == CLOSING ? plan.closing() : plan.opening();
  }
}
