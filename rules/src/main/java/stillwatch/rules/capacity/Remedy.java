package stillwatch.rules.capacity;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * What the long run would be if one limit fell away; its gain is the improvement potential of that
 * unit or outlet (Rausand and Høyland, System Reliability Theory, on measures of importance, from
 * memory), here in spill.
 *
 * @param of the unit or the outlet
 * @param kind what falls away
 * @param longRun the long run without that limit
 */
public record Remedy(String of, Kind kind, LongRun longRun) {
  /** What falls away. */
  public enum Kind {
    /** A unit never drops out and stays in any weather. */
    UNIT_ALWAYS_THERE,
    /** An outlet lets through whatever its units can take. */
    OUTLET_WITHOUT_LIMIT
  }

  /** Each of them, the one that takes most off the spill first. */
  static List<Remedy> all(Reopening reopening, int draws, long seed) {
    List<Remedy> all = new ArrayList<>();
    for (int i = 0; i < reopening.units().size(); i++) {
      Reopening.CollectionUnit u = reopening.units().get(i);
      Reopening.CollectionUnit always =
          new Reopening.CollectionUnit(
              u.name(), u.outlet(), u.capacity(), 1, Duration.ZERO, Optional.empty());
      List<Reopening.CollectionUnit> units = replaced(reopening.units(), i, always);
      all.add(
          of(
              u.name(),
              Kind.UNIT_ALWAYS_THERE,
              new Reopening(
                  reopening.expectedFlow(), reopening.outlets(), units, reopening.weather()),
              draws,
              seed));
    }
    for (int k = 0; k < reopening.outlets().size(); k++) {
      Reopening.Outlet o = reopening.outlets().get(k);
      if (o.capacity().isPresent()) {
        List<Reopening.Outlet> outlets =
            replaced(reopening.outlets(), k, new Reopening.Outlet(o.name(), Optional.empty()));
        all.add(
            of(
                o.name(),
                Kind.OUTLET_WITHOUT_LIMIT,
                new Reopening(
                    reopening.expectedFlow(), outlets, reopening.units(), reopening.weather()),
                draws,
                seed));
      }
    }
    all.sort(Comparator.comparingDouble(r -> r.longRun().spillM3PerD().value()));
    return List.copyOf(all);
  }

  private static Remedy of(String of, Kind kind, Reopening without, int draws, long seed) {
    return new Remedy(of, kind, LongRun.of(without, Drawn.many(without, draws, seed)));
  }

  private static <T> List<T> replaced(List<T> list, int at, T by) {
    List<T> copy = new ArrayList<>(list);
    copy.set(at, by);
    return List.copyOf(copy);
  }
}
