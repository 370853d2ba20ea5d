package stillwatch.rules.engine;

import com.espertech.esper.common.client.EPCompiled;
import com.espertech.esper.compiler.client.util.EPCompiledIOUtil;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.CatalogueException;
import stillwatch.rules.book.RuleEntry;

/** The rules to watch with: those shipped, compiled in the build, and the user's own. Immutable. */
public final class RuleBook {
  private static final String HOME = "/stillwatch/book/";

  private final Catalogue catalogue;
  private final List<Rule> rules;

  private RuleBook(Catalogue catalogue, List<Rule> rules) {
    this.catalogue = catalogue;
    this.rules = List.copyOf(rules);
  }

  /** The shipped rules. */
  public static RuleBook shipped() {
    try {
      String schema = new String(resource("schema.txt"), StandardCharsets.UTF_8);
      if (!schema.equals(EsperSetup.schema())) {
        throw new CatalogueException(
            "the rule book was compiled for other indicators; build the program again");
      }
      Catalogue catalogue = Catalogue.shipped();
      List<Rule> rules = new ArrayList<>();
      for (RuleEntry entry : catalogue.ofTheEngine()) {
        String text = new String(resource(entry.id() + ".epl"), StandardCharsets.UTF_8);
        rules.add(new Rule(entry, text, compiled(entry.id() + ".jar")));
      }
      return new RuleBook(catalogue, rules);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read the shipped rule book", e);
    }
  }

  /**
   * The shipped rules and those in the folder {@code rules} beside the plan, where there is one:
   * {@code catalogue.yaml} with their entries and one {@code .epl} file each. A folder of that name
   * with neither is somebody else's.
   *
   * @throws CatalogueException when a file there is wrong, naming file and line
   */
  public static RuleBook forPlan(Path plan) {
    Path folder = plan.toAbsolutePath().resolveSibling("rules");
    RuleBook shipped = shipped();
    return isRuleBook(folder) ? shipped.and(folder) : shipped;
  }

  /** Whether a folder holds rules; another one may have that name, too. */
  private static boolean isRuleBook(Path folder) {
    if (!Files.isDirectory(folder)) {
      return false;
    }
    try (Stream<Path> files = Files.list(folder)) {
      return files
          .map(f -> String.valueOf(f.getFileName()))
          .anyMatch(name -> name.equals("catalogue.yaml") || name.endsWith(".epl"));
    } catch (IOException e) {
      throw new CatalogueException(folder + ": cannot be read", e);
    }
  }

  private RuleBook and(Path folder) {
    Path file = folder.resolve("catalogue.yaml");
    Catalogue own;
    try (InputStream in = Files.newInputStream(file)) {
      own = Catalogue.read(in, file.toString());
    } catch (IOException e) {
      throw new CatalogueException(
          file + ": cannot be read; a folder of rules needs a catalogue.yaml with one entry a rule",
          e);
    }
    List<Rule> all = new ArrayList<>(rules);
    for (RuleEntry entry : own.rules()) {
      Path epl = folder.resolve(entry.id() + ".epl");
      try {
        String text = Files.readString(epl);
        all.add(new Rule(entry, text, RuleCompiler.compile(entry, text, epl.toString())));
      } catch (IOException e) {
        throw new CatalogueException(
            epl + ": cannot be read; the catalogue there names rule '" + entry.id() + "'", e);
      }
    }
    try (Stream<Path> files = Files.list(folder)) {
      for (Path f : files.sorted().toList()) {
        String name = String.valueOf(f.getFileName());
        if (name.endsWith(".epl") && own.rule(name.substring(0, name.length() - 4)).isEmpty()) {
          throw new CatalogueException(f + ": has no entry in " + file + "; add one with this id");
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException("cannot list " + folder, e);
    }
    return new RuleBook(catalogue.and(own), all);
  }

  /** What the rules are for. */
  public Catalogue catalogue() {
    return catalogue;
  }

  /** All rules. */
  public List<Rule> rules() {
    return rules;
  }

  private static byte[] resource(String name) throws IOException {
    try (InputStream in = RuleBook.class.getResourceAsStream(HOME + name)) {
      if (in == null) {
        throw new CatalogueException(
            "the shipped rule book lacks " + name + "; build the program again");
      }
      return in.readAllBytes();
    }
  }

  private static EPCompiled compiled(String name) throws IOException {
    Path copy = Files.createTempFile("stillwatch-rule", ".jar");
    try {
      Files.write(copy, resource(name));
      return EPCompiledIOUtil.read(copy.toFile());
    } finally {
      Files.delete(copy);
    }
  }
}
