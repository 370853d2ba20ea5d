package stillwatch.alerts.route;

import stillwatch.rules.finding.Finding;

/**
 * One thing to deliver.
 *
 * @param seq its place in the outbox
 * @param event what is said: raised, returned, or raised with the number of the repetition
 * @param finding of what
 * @param attempt how often delivery has been tried, this time counted
 * @param exercise whether a recording feeds the watch, not the well
 * @param record the hash of the record's newest entry when it went out; whoever keeps the message
 *     can later show by it that the record was not made anew
 */
public record Delivery(
    long seq, String event, Finding finding, int attempt, boolean exercise, String record) {
  private static final int DIGITS = 16;

  /** The first digits of the record's hash, enough for people to compare. */
  public String shortRecord() {
    return record.substring(0, DIGITS);
  }

  /**
   * The id of what is said; equal in every attempt, so that the other side can tell a repetition.
   */
  public String id() {
    return finding.id() + "-" + event;
  }

  /** Whether the other side may have it already. */
  public boolean repeated() {
    return attempt > 1;
  }
}
