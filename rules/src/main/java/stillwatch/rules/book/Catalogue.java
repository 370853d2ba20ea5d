package stillwatch.rules.book;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** All rules the watch knows, in the order they are told. Immutable. */
public final class Catalogue {
  private final List<RuleEntry> rules;

  /** A catalogue of these rules; ids must differ. */
  public Catalogue(List<RuleEntry> rules) {
    Set<String> ids = new HashSet<>();
    for (RuleEntry r : rules) {
      if (!ids.add(r.id())) {
        throw new CatalogueException(
            "rule '" + r.id() + "' stands twice in the catalogue; give one another id");
      }
    }
    this.rules = List.copyOf(rules);
  }

  /** The catalogue shipped with Stillwatch. */
  public static Catalogue shipped() {
    try (InputStream in = Catalogue.class.getResourceAsStream("/stillwatch/book/catalogue.yaml")) {
      if (in == null) {
        throw new CatalogueException(
            "the shipped catalogue is missing from the program; build it again");
      }
      return read(in, "catalogue.yaml").explaining();
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read the shipped catalogue", e);
    }
  }

  /**
   * Reads a catalogue.
   *
   * @param in YAML, a list of entries
   * @param name the file's name for messages
   * @throws CatalogueException when an entry is wrong, naming it
   */
  public static Catalogue read(InputStream in, String name) {
    return new Catalogue(CatalogueReader.read(in, name));
  }

  /** All rules. */
  public List<RuleEntry> rules() {
    return rules;
  }

  /** Those that the engine judges: all but the desk's own. */
  public List<RuleEntry> ofTheEngine() {
    return rules.stream().filter(r -> r.about() != RuleEntry.About.DESK).toList();
  }

  /** The rule with this id. */
  public Optional<RuleEntry> rule(String id) {
    return rules.stream().filter(r -> r.id().equals(id)).findFirst();
  }

  /**
   * This catalogue followed by another's rules.
   *
   * @throws CatalogueException when an id stands in both, or a rule explains one that neither has
   */
  public Catalogue and(Catalogue other) {
    List<RuleEntry> all = new ArrayList<>(rules);
    all.addAll(other.rules);
    return new Catalogue(all).explaining();
  }

  /** Itself, after a look whether every rule that one explains is known. */
  private Catalogue explaining() {
    for (RuleEntry r : rules) {
      for (String id : r.explains()) {
        if (rule(id).isEmpty()) {
          throw new CatalogueException(
              "rule '"
                  + r.id()
                  + "' explains '"
                  + id
                  + "', which no catalogue has; write the id of a rule, or leave it out");
        }
      }
    }
    return this;
  }
}
