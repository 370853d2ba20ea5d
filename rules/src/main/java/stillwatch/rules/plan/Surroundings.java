package stillwatch.rules.plan;

import java.time.Duration;

/**
 * What the surroundings of the well may do.
 *
 * @param longestStay how long a vessel, a vehicle or running pumps count as there when nobody logs
 *     their end
 * @param tideKPa how far the tide moves a pressure to either side, kPa; for plans without an
 *     ambient gauge, which would tell it
 */
public record Surroundings(Duration longestStay, double tideKPa) {
  /** What holds where the plan says nothing (common practice, no source). */
  public static final Surroundings USUAL = new Surroundings(Duration.ofHours(12), 5);
}
