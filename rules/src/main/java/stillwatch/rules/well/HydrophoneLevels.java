package stillwatch.rules.well;

import java.util.List;

/**
 * What a hydrophone heard lately.
 *
 * @param ear the hydrophone
 * @param levels means over ten minutes, oldest first
 */
public record HydrophoneLevels(Hydrophone ear, List<Level> levels) {
  /**
   * A mean level.
   *
   * @param clock when it ended, hours on the flow history's clock
   * @param level dB re 1 µPa
   */
  public record Level(double clock, double level) {}

  /**
   * The quietest that began no sooner than a time: vessels come and go, a leak does not. NaN when
   * there is none.
   */
  public double quietest(double fromClock) {
    return levels.stream()
        .filter(l -> l.clock() - LENGTH_HOURS >= fromClock)
        .mapToDouble(Level::level)
        .min()
        .orElse(Double.NaN);
  }

  /** How long each mean is, hours. */
  public static final double LENGTH_HOURS = 1 / 6.0;
}
