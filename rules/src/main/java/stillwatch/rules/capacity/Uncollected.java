package stillwatch.rules.capacity;

import java.util.List;
import java.util.Set;

/**
 * What would not be collected if the well were reopened.
 *
 * @param now capacity against flow with the units that collect now, outages and weather left out
 * @param leastM3PerD what is not collected of the lowest flow by the highest capacity, m³/d
 * @param mostM3PerD what is not collected of the highest flow by the lowest capacity, m³/d
 * @param longRun shares of time in the long run, with all units, outages and weather counted
 */
public record Uncollected(Loss now, double leastM3PerD, double mostM3PerD, LongRun longRun) {
  /**
   * Works it out, over as many draws of the ranges as a study takes, with its first seed.
   *
   * @param lost the names of the units that do not collect
   */
  public static Uncollected of(Reopening reopening, Set<String> lost) {
    List<Drawn> draws = Drawn.many(reopening, CapacityStudy.DRAWS, 1);
    Loss now = Loss.ofLost(reopening, draws, lost);
    double least = Math.max(0, reopening.expectedFlow().low() - now.high());
    return new Uncollected(now, least, now.worstSpill(), LongRun.of(reopening, draws));
  }
}
