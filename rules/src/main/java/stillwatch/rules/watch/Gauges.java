package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.account.Witness;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;

/**
 * The watched gauges of a well, in the plan's order, their pairs and their groups. All gauges of
 * the shut-in pressure are one group and are compared, whether or not the plan calls them twins.
 * Not thread-safe.
 */
final class Gauges {
  /** All hydrophones hear the same water, so they are one group, twins or not. */
  static final String HYDROPHONES = "hydrophones";

  private static final int COMPARED = 4;

  private static final String SHUT_IN = "shut-in pressure";

  private final Map<String, WatchedGauge> byId = new LinkedHashMap<>();
  private final List<WatchedPair> pairs = new ArrayList<>();
  private final List<WatchedGauge> shutIn = new ArrayList<>();
  private final Map<String, WatchedTwins> twins = new LinkedHashMap<>();
  private long hydrophonePeriodMs;

  /** Starts watching; a gauge counts as silent from here until it speaks. */
  void start(Plan plan, long startMs) {
    String shutInGroup = shutInGroup(plan.gauges());
    long shutInOfPlan = plan.gauges().stream().filter(GaugePlan::ofShutIn).count();
    for (GaugePlan p : plan.gauges()) {
      WatchedGauge gauge =
          new WatchedGauge(p, group(p, shutInGroup), plan.surroundings().tideKPa(), startMs);
      for (WatchedGauge other : byId.values()) {
        boolean named = p.twin() != null && p.twin().equals(other.plan.twin());
        if (named || (gauge.shutIn() && other.shutIn() && near(other, shutInOfPlan))) {
          pair(new WatchedPair(other, gauge, plan.facts()));
        }
      }
      byId.put(p.id(), gauge);
      if (p.kind() == Kind.SOUND) {
        hydrophonePeriodMs = Math.max(hydrophonePeriodMs, gauge.periodMs());
      }
      if (gauge.shutIn()) {
        shutIn.add(gauge);
      }
      twins.computeIfAbsent(gauge.group, WatchedTwins::new).members.add(gauge);
    }
    for (WatchedGauge g : shutIn) {
      for (WatchedGauge other : byId.values()) {
        if (other.plan.role() == GaugePlan.Role.AMBIENT
            && other.plan.kind() == Kind.PRESSURE
            && other != g) {
          g.responses().compareWith(other);
        }
      }
    }
    compareTwins();
  }

  /**
   * Whether one of the gauges so far is among the two before the next, in a ring of all: each is
   * beside four others at most, so that the cost grows with the gauges and not with their square.
   */
  private boolean near(WatchedGauge other, long ofPlan) {
    int before = shutIn.size() - shutIn.indexOf(other);
    return 2 * before <= COMPARED || 2 * (ofPlan - before) <= COMPARED;
  }

  private void pair(WatchedPair pair) {
    pairs.add(pair);
    pair.a.pairs.add(pair);
    pair.b.pairs.add(pair);
    twins.computeIfAbsent(pair.b.group, WatchedTwins::new).pairs.add(pair);
  }

  /** Each with so many of the others at most: who feels the well shows it beside a few. */
  private void compareTwins() {
    int n = shutIn.size();
    for (int i = 0; i < n; i++) {
      for (int k = 1; k <= Math.min(COMPARED, n - 1); k++) {
        shutIn.get(i).responses().compareWith(shutIn.get((i + k) % n));
      }
    }
  }

  private static String shutInGroup(List<GaugePlan> plans) {
    String name = null;
    for (GaugePlan p : plans) {
      if (p.kind() == Kind.PRESSURE && p.role() == GaugePlan.Role.SHUT_IN) {
        String own = p.twin() == null ? p.id() : p.twin();
        name = name == null || name.equals(own) ? own : SHUT_IN;
      }
    }
    return name == null ? SHUT_IN : name;
  }

  private static String group(GaugePlan p, String shutInGroup) {
    if (p.kind() == Kind.SOUND) {
      return HYDROPHONES;
    }
    if (p.kind() == Kind.PRESSURE && p.role() == GaugePlan.Role.SHUT_IN) {
      return shutInGroup;
    }
    return p.twin() == null ? p.id() : p.twin();
  }

  Collection<WatchedGauge> all() {
    return byId.values();
  }

  /** The gauges of the shut-in pressure. */
  List<WatchedGauge> shutIn() {
    return shutIn;
  }

  /** How often the slowest hydrophone reads, ms; 0 without one. */
  long hydrophonePeriodMs() {
    return hydrophonePeriodMs;
  }

  /** The name of the group of the shut-in pressure. */
  String shutInGroup() {
    return shutIn.isEmpty() ? SHUT_IN : shutIn.get(0).group;
  }

  /** The gauges of the shut-in pressure as the account sees them. */
  List<Witness> witnesses(long nowMs) {
    return shutIn.stream().map(g -> g.witness(false, Double.NaN, nowMs)).toList();
  }

  /** One gauge as the account sees it; empty when there is none of that name. */
  Optional<Witness> witness(String id, long nowMs) {
    WatchedGauge g = byId.get(id);
    return g == null ? Optional.empty() : Optional.of(g.witness(false, Double.NaN, nowMs));
  }

  List<WatchedPair> pairs() {
    return pairs;
  }

  /** Whether two gauges have ever agreed; only then does one contradict the other. */
  boolean agreed(String a, String b) {
    for (WatchedPair p : pairs) {
      boolean same = p.a.plan.id().equals(a) && p.b.plan.id().equals(b);
      boolean turned = p.a.plan.id().equals(b) && p.b.plan.id().equals(a);
      if ((same || turned) && p.agreed()) {
        return true;
      }
    }
    return false;
  }

  @Nullable WatchedGauge get(String id) {
    return byId.get(id);
  }

  Collection<WatchedTwins> twins() {
    return twins.values();
  }

  /** The names of some gauges for people, as {@link Words#names} tells many. */
  static String names(List<WatchedGauge> gauges) {
    return Words.names(gauges.stream().map(g -> g.plan.id()).toList());
  }

  /** A gauge that tells the sea's pressure now; null where none can be trusted. */
  @Nullable WatchedGauge ambient(long nowMs) {
    for (WatchedGauge g : byId.values()) {
      if (g.plan.role() == GaugePlan.Role.AMBIENT
          && g.plan.kind() == Kind.PRESSURE
          && g.trusted()
          && g.fresh(nowMs)) {
        return g;
      }
    }
    return null;
  }

  WatchedTwins groupOf(WatchedGauge gauge) {
    return twins.computeIfAbsent(gauge.group, WatchedTwins::new);
  }

  /**
   * The gauges a subject speaks of: a gauge, both of a pair, a group of twins; none when it is the
   * well.
   */
  List<WatchedGauge> of(String subject) {
    WatchedGauge one = byId.get(subject);
    if (one != null) {
      return List.of(one);
    }
    for (WatchedPair pair : pairs) {
      if (pair.id.equals(subject)) {
        return List.of(pair.a, pair.b);
      }
    }
    WatchedTwins group = twins.get(subject);
    return group == null ? List.of() : group.members;
  }
}
