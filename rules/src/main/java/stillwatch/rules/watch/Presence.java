package stillwatch.rules.watch;

import stillwatch.ingest.telemetry.Operation;

/**
 * Something that is or was near the well: a vessel, a vehicle in the water, running pumps.
 *
 * @param what the sort of operation that begins it
 * @param text what was last logged of it
 * @param fromMs since when, ms since 1970 UTC
 * @param untilMs until when it counts as there: when its end was logged, else the plan's longest
 *     stay after it was last logged
 * @param ended whether its end was logged
 */
public record Presence(Operation.What what, String text, long fromMs, long untilMs, boolean ended) {

  /** Whether it is there at a time. */
  public boolean at(long atMs) {
    return fromMs <= atMs && atMs < untilMs;
  }
}
