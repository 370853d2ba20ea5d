package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.signal.Shortfall;

/**
 * Which of some gauges that should agree is wrong. Of three or more it is the one that disagrees
 * with all others while two of those agree. Of two it is a guess: the one that left its own course
 * while the other kept to its, and only where that other has lately shown that it feels the well: a
 * plugged gauge keeps its course whatever the well does. When both did or none did, nobody is
 * named. A gauge once named stays so until it agrees again. Not thread-safe.
 */
final class OddOne {
  private static final double AGAIN = 0.7;

  /** From this share of the bound on it is noted who strays, though nothing is said yet. */
  private static final double SUSPICION = 0.1;

  /** A witness must have shown within so long that it feels the well. */
  static final long PROVEN_MS = 3 * 3_600_000L;

  private static final long REMEMBERED_MS = 3 * 3_600_000L;

  private OddOne() {}

  /** Names the odd ones of a group, from its pairs as they stand now. */
  static void judge(List<WatchedGauge> members, List<WatchedPair> pairs, long nowMs) {
    for (WatchedPair pair : pairs) {
      if (pair.known() && pair.excess() > SUSPICION * pair.bound()) {
        suspect(pair.a, pair.b, pair, nowMs);
        suspect(pair.b, pair.a, pair, nowMs);
      }
    }
    for (WatchedGauge g : members) {
      List<WatchedGauge> against = others(g, true);
      String why = against.isEmpty() ? null : why(g, against, nowMs);
      g.odd = !against.isEmpty() && (g.odd || why != null);
      g.oddWhy = why != null ? why : g.odd ? g.oddWhy : "";
    }
  }

  private static void suspect(WatchedGauge g, WatchedGauge witness, WatchedPair pair, long nowMs) {
    Shortfall own = g.track.shortfall();
    double departure = Math.abs(own.departure());
    if (witness.trusted()
        && witness.track.alive()
        && witness.responds(PROVEN_MS)
        && departure > Math.max(6 * own.sigma(), 0.05 * pair.bound())
        && departure > 4 * Math.abs(witness.track.shortfall().departure())) {
      g.strayedMs = nowMs;
    }
  }

  /** The believable others it disagrees with, or agrees with. */
  private static List<WatchedGauge> others(WatchedGauge g, boolean disagree) {
    List<WatchedGauge> found = List.of();
    for (WatchedPair pair : g.pairs) {
      WatchedGauge other = pair.beside(g);
      if (pair.known() && !other.odd && other.trusted()) {
        double limit = g.odd ? AGAIN * pair.bound() : pair.bound();
        if (pair.excess() > limit == disagree) {
          found = found.isEmpty() ? new ArrayList<>() : found;
          found.add(other);
        }
      }
    }
    return found;
  }

  private static @Nullable String why(WatchedGauge g, List<WatchedGauge> against, long nowMs) {
    if (!others(g, false).isEmpty()) {
      return null;
    }
    if (against.size() >= 2) {
      return Collections.disjoint(others(against.get(0), false), against)
          ? null
          : Gauges.names(against) + " agree with each other and not with " + g.plan.id();
    }
    WatchedGauge witness = against.get(0);
    boolean strayed = nowMs - g.strayedMs < REMEMBERED_MS;
    boolean witnessToo = nowMs - witness.strayedMs < REMEMBERED_MS;
    return strayed && !witnessToo && witness.track.alive()
        ? witness.plan.id() + ", which lately followed the well, keeps its trend. " + sure(g)
        : null;
  }

  private static String sure(WatchedGauge g) {
    return g.track.range().leap() != 0
        ? g.plan.id() + " got there faster than fluid can move"
        : "With two gauges only, which one is wrong is a guess";
  }
}
