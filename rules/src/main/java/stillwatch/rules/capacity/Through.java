package stillwatch.rules.capacity;

import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.well.Uncertain;

/**
 * What comes through one outlet with all its units, m³/d.
 *
 * @param units the units behind it
 * @param limitedByItself whether by the likely values the outlet lets through less than its units
 *     could take
 */
public record Through(
    String outlet,
    List<String> units,
    double low,
    double likely,
    double high,
    boolean limitedByItself) {
  static List<Through> ofEach(Reopening reopening) {
    Drawn low = Drawn.at(reopening, Uncertain::low);
    Drawn likely = Drawn.at(reopening, Uncertain::likely);
    Drawn high = Drawn.at(reopening, Uncertain::high);
    int all = reopening.everyUnit();
    List<Through> outlets = new ArrayList<>();
    for (int k = 0; k < reopening.outlets().size(); k++) {
      String name = reopening.outlets().get(k).name();
      List<Reopening.CollectionUnit> behind =
          reopening.units().stream().filter(u -> u.outlet().equals(name)).toList();
      outlets.add(
          new Through(
              name,
              behind.stream().map(Reopening.CollectionUnit::name).toList(),
              low.through(k, all),
              likely.through(k, all),
              high.through(k, all),
              likely.limit(k) < behind.stream().mapToDouble(u -> u.capacity().likely()).sum()));
    }
    return List.copyOf(outlets);
  }
}
