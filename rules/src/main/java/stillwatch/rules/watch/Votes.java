package stillwatch.rules.watch;

import java.util.List;
import java.util.function.ToDoubleFunction;
import stillwatch.rules.indicator.GaugeIndicator;

/** One quantity of the gauges of a group that can be trusted, in order of size. Not thread-safe. */
final class Votes {
  private final List<GaugeIndicator> trusted;
  private final int votes;
  private final double[] sorted;
  private int known;

  /** Votes of these, so many of which must agree. */
  Votes(List<GaugeIndicator> trusted, int votes) {
    this.trusted = trusted;
    this.votes = votes;
    sorted = new double[trusted.size()];
  }

  /** Takes up another quantity; a gauge for which it is NaN does not vote. */
  Votes on(ToDoubleFunction<GaugeIndicator> quantity) {
    known = 0;
    for (int i = 0; i < trusted.size(); i++) {
      double value = quantity.applyAsDouble(trusted.get(i));
      if (!Double.isNaN(value)) {
        int at = known++;
        while (at > 0 && sorted[at - 1] < value) {
          sorted[at] = sorted[at - 1];
          at--;
        }
        sorted[at] = value;
      }
    }
    return this;
  }

  /** The value that at least so many reach; NaN when fewer are known. */
  double reached() {
    return known < votes ? Double.NaN : sorted[votes - 1];
  }

  /** The value that at least so many are at or under; NaN when fewer are known. */
  double under() {
    return known < votes ? Double.NaN : sorted[known - votes];
  }

  /** The largest; NaN when one is not known or there is none. */
  double largest() {
    return known == 0 || known < trusted.size() ? Double.NaN : sorted[0];
  }

  /** The least; NaN when one is not known or there is none. */
  double least() {
    return known == 0 || known < trusted.size() ? Double.NaN : sorted[known - 1];
  }

  /** The second largest of those known; NaN when there are fewer. */
  double second() {
    return known < 2 ? Double.NaN : sorted[1];
  }
}
