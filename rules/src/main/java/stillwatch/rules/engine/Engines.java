package stillwatch.rules.engine;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import stillwatch.rules.book.CatalogueException;

/**
 * The engines of all wells that one thread watches. Wells with the same rules under the same limits
 * take turns at one where no rule remembers anything, so that a further well brings no further
 * code; every other well has its own. Not thread-safe.
 */
public final class Engines {
  private final Map<List<Terms>, Shared> shared = new HashMap<>();

  /** What decides what a rule says. */
  private record Terms(String id, String text, Map<String, Double> parameters) {
    static Terms of(DeployedRule r) {
      return new Terms(r.rule().entry().id(), r.rule().text(), r.parameters());
    }
  }

  /** An engine and how many wells are at it. */
  private static final class Shared {
    private final RuleRuntime runtime;
    private int wells;

    Shared(RuleRuntime runtime) {
      this.runtime = runtime;
    }
  }

  /**
   * The engine of one well, which closes it when it is done.
   *
   * @throws CatalogueException when a rule asks for a limit the catalogue does not name or lacks a
   *     column
   */
  public WellEngine of(List<DeployedRule> rules) {
    List<Terms> terms = rules.stream().map(Terms::of).toList();
    Shared known = shared.get(terms);
    if (known == null) {
      RuleRuntime made = new RuleRuntime(rules);
      if (made.remembers()) {
        return new WellEngine(rules, made, made::destroy);
      }
      known = new Shared(made);
      shared.put(terms, known);
    }
    Shared seat = known;
    seat.wells++;
    return new WellEngine(rules, seat.runtime, () -> leave(terms, seat));
  }

  private void leave(List<Terms> terms, Shared seat) {
    seat.wells--;
    if (seat.wells == 0) {
      shared.remove(terms);
      seat.runtime.destroy();
    }
  }

  /** How many engines wells may share now. */
  int sharedNow() {
    return shared.size();
  }
}
