package stillwatch.rules.well;

/** What may explain the pressure of a shut-in well. */
public enum Explanation {
  /** Sound, as the facts say, the reservoir endless for now. */
  INTACT("intact, as the facts say", false),
  /** Sound, but the reservoir has lost more than the facts say, or its boundary is felt. */
  DEPLETED("intact, the reservoir depleted", false),
  /** Sound, nothing builds up any more, and the column cools. */
  COOLING("intact, built up, the column cools", false),
  /** Fluid goes into rock: in proportion to the pressure above what the rock takes. */
  LEAK_TO_ROCK("leak into rock", true),
  /** Fluid goes into the sea: by the root of the pressure above the sea's. */
  LEAK_TO_SEA("leak into the sea", true);

  private final String words;
  private final boolean leak;

  Explanation(String words, boolean leak) {
    this.words = words;
    this.leak = leak;
  }

  /** For people. */
  public String words() {
    return words;
  }

  /** Whether fluid leaves the well. */
  public boolean leak() {
    return leak;
  }
}
