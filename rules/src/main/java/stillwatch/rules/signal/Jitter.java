package stillwatch.rules.signal;

/**
 * How much a gauge goes to and fro, which a well that moves one way does not: the smaller of two
 * successive changes where they are of opposite sign, nothing where they are not, in an
 * exponentially weighted mean; and how much it usually does. A trend, however steep, adds nothing.
 * It also tells how lively a gauge is: how often it turns by two of its own steps or more. A coarse
 * gauge that toggles between two neighbouring values, or an archive that draws straight lines,
 * hardly ever does, and then standing still proves nothing. Not thread-safe.
 */
final class Jitter {
  private static final int MEMORY = 200;
  private static final int USUAL_MEMORY = 20_000;
  private static final int WARM = 300;

  private double last = Double.NaN;
  private double lastChange;
  private double step = Double.POSITIVE_INFINITY;
  private double size;
  private double usual;
  private double lively;
  private long count;

  /** Takes a finite reading. */
  void accept(double value) {
    double change = value - last;
    last = value;
    if (Double.isNaN(change)) {
      return;
    }
    double to = Math.abs(change);
    double fro = Math.abs(lastChange);
    boolean turns = change * lastChange < 0;
    double turn = turns ? Math.min(to, fro) : 0;
    lastChange = change;
    count++;
    if (to > 0 && to < step) {
      step = to;
    }
    size += (turn - size) / Math.min(count, MEMORY);
    if (to > 0) { // a gauge that stands still keeps its name for liveliness
      usual +=
          (Math.min(turn, count > WARM ? 8 * usual : turn) - usual) / Math.min(count, USUAL_MEMORY);
      double turned = turns && Math.max(to, fro) >= 1.5 * step ? 1 : 0;
      lively += (turned - lively) / Math.min(count, USUAL_MEMORY);
    }
  }

  /** Mean size of a turn over the last few hundred readings, in the gauge's own unit. */
  double size() {
    return size;
  }

  /** What that usually is; NaN until known. */
  double usual() {
    return count < WARM ? Double.NaN : usual;
  }

  /** The share of changes that are turns of two steps or more, 0 to 1. */
  double lively() {
    return count < WARM ? 0 : lively;
  }
}
