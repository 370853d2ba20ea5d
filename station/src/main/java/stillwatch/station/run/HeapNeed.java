package stillwatch.station.run;

import stillwatch.station.option.InputException;

/**
 * The heap that a watch of so many gauges wants. Measured by class histograms of a watch of 1000
 * and of 10000 gauges (JDK 17.0.15): about 36 kB a gauge for what the rules remember, beside what
 * the page keeps of its trail.
 */
public final class HeapNeed {
  private static final long BASE = 64L << 20;
  private static final long GAUGE = 36L << 10;
  private static final long MEGABYTE = 1L << 20;

  private HeapNeed() {}

  /**
   * Checks that there is enough of it before anything is begun.
   *
   * @param gauges of the plan
   * @param trailBytes what the page keeps of their trails at most
   * @param heapBytes what this process may have
   * @throws InputException when it is too little, with what to do
   */
  public static void check(int gauges, long trailBytes, long heapBytes) {
    long need = BASE + gauges * GAUGE + trailBytes;
    long wanted = need + need / 4; // the collector wants room to work in
    if (heapBytes < wanted) {
      long roundedUp = (wanted / (64 * MEGABYTE) + 1) * 64;
      throw new InputException(
          "the plan has "
              + gauges
              + " gauges, and this process may use "
              + heapBytes / MEGABYTE
              + " MB of heap; set STILLWATCH_JAVA_OPTS=-Xmx"
              + roundedUp
              + "m, or watch fewer gauges");
    }
  }
}
