package stillwatch.rules.capacity;

import java.util.Arrays;
import java.util.Random;

/**
 * What the first days after the reopening bring, from many random futures (Monte Carlo). The same
 * plan, days, number and seed give the same figures.
 */
public final class Outlook {
  private final double days;
  private final double[] firstShort;
  private final double[] shortFor;
  private final double[] spilled;

  private Outlook(double days, int futures) {
    this.days = days;
    firstShort = new double[futures];
    shortFor = new double[futures];
    spilled = new double[futures];
  }

  /**
   * Lives through so many futures. What the plan gives as a range is drawn once for each.
   *
   * @throws IllegalArgumentException when days or futures are not above zero
   */
  static Outlook of(Reopening reopening, double days, int futures, long seed) {
    if (!(days > 0) || futures <= 0) {
      throw new IllegalArgumentException(
          "an outlook needs days and futures above zero, was " + days + " d, " + futures);
    }
    Outlook outlook = new Outlook(days, futures);
    Random random = new Random(seed);
    for (int i = 0; i < futures; i++) {
      Drawn drawn = Drawn.any(reopening, random);
      Future.Outcome outcome = new Future(reopening, random).within(days, drawn);
      outlook.firstShort[i] = outcome.firstShort();
      outlook.shortFor[i] = outcome.shortFor();
      outlook.spilled[i] = outcome.spilled();
    }
    return outlook;
  }

  /** How many days it looks ahead. */
  public double days() {
    return days;
  }

  /** How many futures were lived through. */
  public int futures() {
    return spilled.length;
  }

  /** The probability that the capacity is at least the flow for so many days without a break. */
  public Interval holdsFor(double days) {
    int held = (int) Arrays.stream(firstShort).filter(first -> first >= days).count();
    return Interval.ofShare(held, futures());
  }

  /** The mean share of the days that the capacity is at least the flow. */
  public Mean heldShare() {
    return Mean.of(Arrays.stream(shortFor).map(s -> 1 - s / days).toArray());
  }

  /** What is not collected within the days, m³, on average over all futures. */
  public Mean spilledM3() {
    return Mean.of(spilled);
  }

  /** What one future in ten spills more than, m³. */
  public Interval tenthSpillsOverM3() {
    double[] sorted = spilled.clone();
    Arrays.sort(sorted);
    return Interval.ofQuantile(sorted, 0.9);
  }

  /** What is not collected while the capacity is short, m³/d on average; 0 where it never is. */
  public Mean rateWhileShortM3PerD() {
    return Mean.ofRatio(spilled, shortFor);
  }
}
