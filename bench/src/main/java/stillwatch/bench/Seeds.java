package stillwatch.bench;

/** Seeds that differ in half their bits however near the numbers they come from. */
public final class Seeds {
  private Seeds() {}

  /**
   * One seed of several numbers, by the finisher of SplitMix64 (Steele, Lea, Flood, OOPSLA 2014).
   */
  public static long mix(long... numbers) {
    long seed = 0;
    for (long number : numbers) {
      long z = seed + number + 0x9e3779b97f4a7c15L;
      z = (z ^ (z >>> 30)) * 0xbf58476d1ce4e5b9L;
      z = (z ^ (z >>> 27)) * 0x94d049bb133111ebL;
      seed = z ^ (z >>> 31);
    }
    return seed;
  }
}
