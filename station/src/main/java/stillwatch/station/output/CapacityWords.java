package stillwatch.station.output;

import java.util.Locale;
import stillwatch.rules.capacity.Interval;
import stillwatch.rules.capacity.Loss;
import stillwatch.rules.capacity.Mean;
import stillwatch.rules.capacity.Remedy;

/** What the figures of a capacity study assume and are called, in one place for every form. */
final class CapacityWords {
  static final String FLOW =
      "the whole of what would come out of the well; any value of the plan's range, the likely one most often where one is stated";

  static final String LOSSES =
      "low, likely and high are every capacity at that end of its range at once; holds is the share of draws of the ranges, each drawn by itself, in which the capacity is at least the flow; spill by the likely values, and at worst by the highest flow and the lowest capacities";

  static final String OUTLETS =
      "each unit takes flow from its own outlet only, and the flow divides among the outlets as their units can take it; an outlet passes all of the flow where the plan states no capacity of it";

  static final String OUTLOOK =
      "day 0 is when all units collect, in good weather; outages begin and end independently of each other and of the weather, in exponential times that follow from availability and time to connect; storms come and end in exponential times and take all units at once that leave for weather; each is back its stated time after the storm; ranges are drawn once for each future; nothing is repaired, moved or replaced otherwise";

  static final String SPILL =
      "whatever is not collected is spilled, at the drawn flow less the capacity; nothing is stored, and the flow is not choked back";

  static final String LONG_RUN =
      "the same outages and weather, going on for ever; every state of the units is counted with its share of time";

  static final String BOTTLENECK =
      "the unit or outlet whose limit costs most: without it least would be spilled in the long run, all else as planned; a unit then never drops out and stays in any weather, its capacity unchanged; an outlet then passes whatever its units can take";

  private CapacityWords() {}

  static String lost(Loss loss) {
    if (!loss.outlet().isEmpty()) {
      return loss.outlet() + " shut";
    }
    return loss.lost().isEmpty() ? "all units" : "without " + String.join(" and ", loss.lost());
  }

  static String remedy(Remedy remedy) {
    return switch (remedy.kind()) {
      case UNIT_ALWAYS_THERE -> remedy.of() + " always there";
      case OUTLET_WITHOUT_LIMIT -> remedy.of() + " without its limit";
    };
  }

  static String percent(double share) {
    return String.format(Locale.ROOT, "%.1f %%", 100 * share);
  }

  /** With its interval. */
  static String percent(Interval share) {
    return String.format(
        Locale.ROOT,
        "%.1f %% (95 %%: %.1f to %.1f %%)",
        100 * share.value(),
        100 * share.low(),
        100 * share.high());
  }

  /** With its standard error. */
  static String percent(Mean share) {
    return String.format(
        Locale.ROOT, "%.1f %% (standard error %.2f %%)", 100 * share.value(), 100 * share.error());
  }
}
