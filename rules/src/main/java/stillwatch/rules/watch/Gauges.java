package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.plan.GaugePlan;

/** The watched gauges of a well, in the plan's order, their pairs and their groups. */
final class Gauges {
  /** All hydrophones hear the same water, so they are one group, twins or not. */
  static final String HYDROPHONES = "hydrophones";

  private final Map<String, WatchedGauge> byId = new LinkedHashMap<>();
  private final List<WatchedPair> pairs = new ArrayList<>();
  private final Map<String, WatchedTwins> twins = new LinkedHashMap<>();

  /** Starts watching; a gauge counts as silent from here until it speaks. */
  void start(List<GaugePlan> plans, long startMs) {
    for (GaugePlan p : plans) {
      WatchedGauge gauge = new WatchedGauge(p, startMs);
      for (WatchedGauge other : byId.values()) {
        if (p.twin() != null && p.twin().equals(other.plan.twin())) {
          WatchedPair pair = new WatchedPair(other, gauge);
          pairs.add(pair);
          twins.computeIfAbsent(gauge.group, WatchedTwins::new).pairs.add(pair);
        }
      }
      byId.put(p.id(), gauge);
      twins.computeIfAbsent(gauge.group, WatchedTwins::new).members.add(gauge);
    }
  }

  Collection<WatchedGauge> all() {
    return byId.values();
  }

  List<WatchedPair> pairs() {
    return pairs;
  }

  @Nullable WatchedGauge get(String id) {
    return byId.get(id);
  }

  Iterable<WatchedTwins> twins() {
    return twins.values();
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
