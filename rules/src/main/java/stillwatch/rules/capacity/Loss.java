package stillwatch.rules.capacity;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import stillwatch.rules.well.Uncertain;

/**
 * What is left to collect with when something is lost, m³/d.
 *
 * @param lost the units that do not collect; none where all do
 * @param outlet the outlet that is shut, all its units with it; empty where none is
 * @param low capacity when each unit and outlet has its lowest
 * @param likely capacity when each has its likely one
 * @param high capacity when each has its highest
 * @param likelySpill what is not collected of the likely flow by the likely capacity
 * @param worstSpill what is not collected of the highest flow by the lowest capacity
 * @param holds the share of the draws of the ranges in which the capacity is at least the flow
 */
public record Loss(
    List<String> lost,
    String outlet,
    double low,
    double likely,
    double high,
    double likelySpill,
    double worstSpill,
    Interval holds) {
  private static Loss of(Reopening reopening, List<Drawn> draws, int lost, String outlet) {
    int up = reopening.everyUnit() & ~lost;
    List<String> names = new ArrayList<>();
    for (int i = 0; i < reopening.units().size(); i++) {
      if ((lost & 1 << i) != 0) {
        names.add(reopening.units().get(i).name());
      }
    }
    Drawn likely = Drawn.at(reopening, Uncertain::likely);
    return new Loss(
        List.copyOf(names),
        outlet,
        Drawn.at(reopening, Uncertain::low).capacity(up),
        likely.capacity(up),
        Drawn.at(reopening, Uncertain::high).capacity(up),
        likely.spill(up),
        Drawn.worst(reopening).spill(up),
        Interval.ofShare((int) draws.stream().filter(d -> d.holds(up)).count(), draws.size()));
  }

  /** Nothing lost, then any one unit, over as many draws as a study takes, with its first seed. */
  public static List<Loss> upToOneUnit(Reopening reopening) {
    return ofUnits(reopening, Drawn.many(reopening, CapacityStudy.DRAWS, 1)).stream()
        .filter(l -> l.lost().size() < 2)
        .toList();
  }

  /** Nothing lost, then any one unit, then any two. */
  static List<Loss> ofUnits(Reopening reopening, List<Drawn> draws) {
    int n = reopening.units().size();
    List<Loss> all = new ArrayList<>(List.of(of(reopening, draws, 0, "")));
    for (int i = 0; i < n; i++) {
      all.add(of(reopening, draws, 1 << i, ""));
    }
    for (int i = 0; i < n; i++) {
      for (int k = i + 1; k < n; k++) {
        all.add(of(reopening, draws, 1 << i | 1 << k, ""));
      }
    }
    return List.copyOf(all);
  }

  /** What is left without the units of these names. */
  public static Loss ofLost(Reopening reopening, Set<String> names) {
    return ofLost(reopening, List.of(Drawn.at(reopening, Uncertain::likely)), names);
  }

  static Loss ofLost(Reopening reopening, List<Drawn> draws, Set<String> names) {
    int lost = 0;
    for (int i = 0; i < reopening.units().size(); i++) {
      lost |= names.contains(reopening.units().get(i).name()) ? 1 << i : 0;
    }
    return of(reopening, draws, lost, "");
  }

  /** Each outlet shut. */
  static List<Loss> ofOutlets(Reopening reopening, List<Drawn> draws) {
    return reopening.outlets().stream()
        .map(o -> of(reopening, draws, reopening.behind(o), o.name()))
        .toList();
  }
}
