package stillwatch.bench.faults;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/**
 * What a campaign breaks: real processes that take readings, judge them and tell a route's peer.
 */
interface Subject extends AutoCloseable {
  /** Takes readings. */
  Part door();

  /** Has the page, the routes and the health. */
  Part desk();

  /** Where its broker is; empty while there is none. */
  Optional<String> brokerAddress();

  /** Whether this can happen to it here. */
  boolean suffers(Kind kind);

  /**
   * Lets it happen.
   *
   * @param seen what was not said meanwhile goes there
   * @return the moment from which it is to come back, ms since 1970 UTC
   */
  long happen(Kind kind, Random random, List<String> seen) throws IOException, InterruptedException;

  /** How its processes are, for a failure. */
  String state();

  /** Starts again what has ended. */
  void revive() throws IOException;

  /** Ends it in order and gives its log and its journal; what did not end goes to {@code seen}. */
  Records end(List<String> seen) throws IOException, InterruptedException;

  /** Ends everything, whatever state it is in. */
  @Override
  void close() throws IOException;
}
