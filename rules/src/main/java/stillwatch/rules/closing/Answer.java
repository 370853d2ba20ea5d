package stillwatch.rules.closing;

/** What the pressure did after a step, beside what the plan expects of it. */
public enum Answer {
  /** The plan expects nothing of it. */
  NOT_ASKED("the plan expects nothing"),
  /** It is not time yet. */
  AWAITED("awaited"),
  /** Every gauge changed as expected. */
  AS_EXPECTED("as expected"),
  /** No gauge changed by more than its accuracy, and the plan expects more. */
  NONE("NO RESPONSE"),
  /** The change of every gauge lies below the expected range: it rose less, or fell more. */
  BELOW("BELOW the expected range"),
  /** The change of every gauge lies above the expected range: it rose more, or fell less. */
  ABOVE("ABOVE the expected range"),
  /** Some gauge changed as expected, another did not. */
  GAUGES_DIFFER("the gauges differ"),
  /** No gauge was read both before and after. */
  NOT_READ("not read"),
  /** The next step came before it was time. */
  CUT_SHORT("not judged: the next step came first");

  private final String words;

  Answer(String words) {
    this.words = words;
  }

  /** For people, a part of a sentence. */
  public String words() {
    return words;
  }

  /** Whether it departs from what the plan expects. */
  public boolean departs() {
    return this == NONE || this == BELOW || this == ABOVE;
  }
}
