package stillwatch.rules.capacity;

import java.util.List;
import java.util.Optional;

/**
 * Whether the flow of a reopened well could be collected.
 *
 * @param seed of all chance
 * @param draws how often the ranges were drawn for {@code losses}, {@code longRun}, {@code
 *     remedies}
 * @param losses capacity against flow: nothing lost, then any one unit, then any two
 * @param through what comes through each outlet
 * @param shut capacity against flow with each outlet shut
 * @param outlook the first days after the reopening
 * @param longRun shares of time in the long run
 * @param remedies the long run with one limit fallen away, best first
 */
public record CapacityStudy(
    long seed,
    int draws,
    List<Loss> losses,
    List<Through> through,
    List<Loss> shut,
    Outlook outlook,
    LongRun longRun,
    List<Remedy> remedies) {
  static final int DRAWS = 2_000;

  /**
   * Works it out.
   *
   * @param days how far it looks ahead, above zero
   * @param futures how many random futures, above zero
   */
  public static CapacityStudy of(Reopening reopening, double days, int futures, long seed) {
    List<Drawn> draws = Drawn.many(reopening, DRAWS, seed);
    return new CapacityStudy(
        seed,
        DRAWS,
        Loss.ofUnits(reopening, draws),
        Through.ofEach(reopening),
        Loss.ofOutlets(reopening, draws),
        Outlook.of(reopening, days, futures, seed),
        LongRun.of(reopening, draws),
        Remedy.all(reopening, DRAWS, seed));
  }

  /**
   * The unit or outlet whose limit costs most: without it least would be spilled in the long run.
   * Empty where no single one changes the spill.
   */
  public Optional<Remedy> bottleneck() {
    return remedies.stream()
        .findFirst()
        .filter(
            r -> r.longRun().spillM3PerD().value() < longRun.spillM3PerD().value() * (1 - 1e-9));
  }
}
