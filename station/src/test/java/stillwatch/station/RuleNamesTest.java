package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.RuleEntry;

/** What a rule means stands in the catalogue; nobody else reads anything into its name. */
class RuleNamesTest {
  /** Raise a rule themselves, so they name it. */
  private static final Set<String> RAISING = Set.of("DeskJudge.java");

  private static final Pattern QUOTED = Pattern.compile("[\"'`]([a-z][a-z-]*)%?[\"'`]");

  /** The ids and the beginnings of ids that a source quotes. */
  private static List<String> named(String source) {
    List<String> ids = Catalogue.shipped().rules().stream().map(RuleEntry::id).toList();
    List<String> named = new ArrayList<>();
    Matcher m = QUOTED.matcher(source);
    for (int from = 0; m.find(from); from = m.end() - 1) { // a closing quote may open the next
      String word = m.group(1);
      if (ids.contains(word)
          || (word.endsWith("-") && ids.stream().anyMatch(id -> id.startsWith(word)))) {
        named.add(word);
      }
    }
    return named;
  }

  @Test
  void namesAreFound() {
    assertThat(named("rule.startsWith(\"gauge-\") || Set.of(\"slow-fall\",'sighting')"))
        .containsExactly("gauge-", "slow-fall", "sighting");
    assertThat(named("\"rule like 'gauge-%'\"")).containsExactly("gauge-");
    assertThat(named("id=\"gauge-part\"")).isEmpty();
  }

  @Test
  void noSourceOutsideTheCatalogueNamesARule() throws IOException {
    List<String> found = new ArrayList<>();
    for (String module : List.of("ingest", "rules", "alerts", "station")) {
      try (Stream<Path> files = Files.walk(Path.of("..", module, "src", "main"))) {
        for (Path f : files.filter(RuleNamesTest::read).sorted().toList()) {
          for (String id : named(Files.readString(f))) {
            found.add(f + ": " + id);
          }
        }
      }
    }
    assertThat(found).isEmpty();
  }

  private static boolean read(Path file) {
    String name = String.valueOf(file.getFileName());
    return name.matches(".*\\.(java|js|html)") && !RAISING.contains(name);
  }
}
