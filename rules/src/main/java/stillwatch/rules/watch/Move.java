package stillwatch.rules.watch;

import stillwatch.ingest.telemetry.Operation;

/**
 * Something that was done to the well and may move its pressure.
 *
 * @param atMs when, as far as its stamp can be believed: else when it was received; ms since 1970
 *     UTC
 * @param what the sort of operation
 * @param text what was logged of it
 * @param believed whether its stamp can be believed; what cannot explains no change of pressure
 */
public record Move(long atMs, Operation.What what, String text, boolean believed) {

  /** Like {@code closure-step: choke part-turn 1 of 6}. */
  public String words() {
    return what.wire() + (text.isEmpty() ? "" : ": " + text);
  }
}
