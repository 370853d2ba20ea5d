package stillwatch.bench.detection;

import org.jspecify.annotations.Nullable;
import stillwatch.rules.drill.Scenario;

/**
 * A leak of the matrix.
 *
 * @param name its name in the table
 * @param share of the shut-in pressure: lost within ten minutes when it opens at once, lost an hour
 *     when it grows; 0 for a sound well
 * @param grows whether it grows steadily from nothing
 */
record LeakCase(String name, double share, boolean grows) {
  static final LeakCase NONE = new LeakCase("sound", 0, false);

  /** What an opening of unit rate draws down after ten minutes and after an hour, kPa. */
  private static double drawdown(Scenario.Well well, double hours) {
    return well.slopePerCycle()
        * (Math.log10(hours / well.xHours()) - 0.5772156649015329 / Math.log(10));
  }

  /** Whether this path can carry it: rock takes nothing below its own pressure. */
  boolean fits(String path) {
    return share == 0 || !path.equals("rock") || grows || share < 0.08;
  }

  Scenario.@Nullable Leak leak(Scenario.Well well, String path, double at, double level) {
    if (share == 0) {
      return null;
    }
    double outside = path.equals("sea") ? well.sea() : 40_800;
    if (grows) {
      double perHour = share * level / drawdown(well, 1);
      double first = perHour / 1000;
      return new Scenario.Leak(
          path, at, outside, first / pull(path, level - outside), 1000, null, null);
    }
    double lost = share * level;
    double rate = lost / drawdown(well, 1 / 6.0);
    double size = rate / pull(path, level - lost - outside);
    return new Scenario.Leak(path, at, outside, size, 0, null, null);
  }

  private static double pull(String path, double excess) {
    return path.equals("sea") ? Math.sqrt(excess) : excess;
  }
}
