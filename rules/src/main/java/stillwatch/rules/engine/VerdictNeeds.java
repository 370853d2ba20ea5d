package stillwatch.rules.engine;

/** Who waits for a rule's word, whatever it is. Asked on the sending thread. */
@FunctionalInterface
public interface VerdictNeeds {
  /** Everybody does: each row of the rule is handed over. */
  VerdictNeeds ALWAYS = subject -> true;

  /**
   * Whether the rule's condition was true of this subject and has not been said to be over since.
   */
  boolean of(String subject);
}
