package stillwatch.alerts.route;

import java.util.random.RandomGenerator;

/**
 * How long to wait before trying again: doubling from the first wait up to the longest, of which a
 * random half is taken so that many senders do not come back at once.
 *
 * @param firstMs the wait after the first failure, before the random part
 * @param longestMs never longer than this
 */
public record Backoff(long firstMs, long longestMs, RandomGenerator random) {
  /** The wait after this many attempts, ms: between half and the whole of the doubled wait. */
  long afterMs(int attempts) {
    long whole = Math.min(longestMs, firstMs << Math.min(30, attempts - 1));
    return whole / 2 + (long) (random.nextDouble() * (whole - whole / 2.0));
  }
}
