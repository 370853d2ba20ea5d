package stillwatch.station;

import static java.util.stream.Collectors.toCollection;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** The picture of the house is what the byte code shows, and its walks name what there is. */
class ArchitectureDocumentTest {
  private static final Path DOCUMENT = Path.of("../docs/architecture.md");
  private static final String BEGIN = "<!-- written from the byte code; do not edit -->\n";
  private static final String END = "<!-- up to here -->\n";

  /** A step of a walk: {@code | 1 | ingest/intake | `Intake.take` | ... |}. */
  private static final Pattern STEP =
      Pattern.compile("\\| [0-9]+ \\| ([a-z/]+) \\| `(\\w+)\\.(\\w+)` \\| \\S.* \\|");

  private static final Pattern NAME = Pattern.compile("`([A-Z][a-z]\\w+)(?:\\.(\\w+))?`");

  private static String folder(JavaClass type) {
    return type.getPackageName().substring("stillwatch.".length()).replace('.', '/');
  }

  /** Every package with the packages that its classes use. */
  private static Map<String, Set<String>> uses() {
    Map<String, Set<String>> all = new TreeMap<>();
    for (JavaClass type : HouseTest.HOUSE) {
      Set<String> used = all.computeIfAbsent(folder(type), f -> new TreeSet<>());
      type.getDirectDependenciesFromSelf().stream()
          .map(d -> d.getTargetClass().getBaseComponentType())
          .filter(t -> t.getPackageName().startsWith("stillwatch."))
          .map(ArchitectureDocumentTest::folder)
          .filter(f -> !f.equals(folder(type)))
          .forEach(used::add);
    }
    return all;
  }

  private static boolean reaches(Map<String, Set<String>> uses, String from, String to) {
    return uses.getOrDefault(from, Set.of()).stream()
        .anyMatch(u -> u.equals(to) || reaches(uses, u, to));
  }

  private static String node(String folder) {
    return folder.replace('/', '_') + (folder.contains("/") ? "" : "_start");
  }

  private static String picture() {
    Map<String, Set<String>> uses = uses();
    StringBuilder text = new StringBuilder("```mermaid\nflowchart TD\n");
    Set<String> modules =
        uses.keySet().stream().map(f -> f.split("/", 2)[0]).collect(toCollection(TreeSet::new));
    for (String module : modules) {
      text.append("  subgraph ").append(module).append('\n');
      for (String folder : uses.keySet()) {
        if (folder.equals(module) || folder.startsWith(module + "/")) {
          String name = folder.substring(folder.indexOf('/') + 1);
          text.append("    ").append(node(folder)).append("[\"").append(name).append("\"]\n");
        }
      }
      text.append("  end\n");
    }
    uses.forEach(
        (from, used) ->
            used.stream()
                .filter(to -> used.stream().noneMatch(u -> reaches(uses, u, to)))
                .forEach(to -> text.append("  " + node(from) + " --> " + node(to)).append('\n')));
    text.append("```\n\n| package | uses |\n|---|---|\n");
    uses.forEach(
        (from, used) -> text.append("| " + from + " | " + String.join(", ", used) + " |\n"));
    return text.toString();
  }

  @Test
  void thePictureIsWhatTheByteCodeShows() throws IOException {
    String document = Files.readString(DOCUMENT);
    int from = document.indexOf(BEGIN) + BEGIN.length();
    int to = document.indexOf(END);
    if (Boolean.getBoolean("stillwatch.write")) {
      Files.writeString(DOCUMENT, document.substring(0, from) + picture() + document.substring(to));
    }
    assertThat(Files.readString(DOCUMENT).contains(BEGIN + picture() + END))
        .as(
            "docs/architecture.md shows what the byte code shows; write it again: mvn -pl station -am test "
                + "-Dtest=ArchitectureDocumentTest -Dstillwatch.write=true -Dsurefire.failIfNoSpecifiedTests=false")
        .isTrue();
  }

  @Test
  void theWalksNameWhatThereIs() throws IOException {
    String document = Sources.text("docs/architecture.md");
    List<String> walks = List.of(document.split("\n## The walk of ", -1));
    assertThat(walks).hasSize(4);
    List<String> missing = new ArrayList<>();
    for (String walk : walks.subList(1, 4)) {
      List<String> steps = walk.lines().filter(l -> l.matches("\\| [0-9].*")).toList();
      assertThat(steps)
          .as("steps of the walk of " + walk.lines().findFirst())
          .hasSizeGreaterThan(8);
      assertThat(steps)
          .allMatch(STEP.asMatchPredicate(), "number, package, class and method, what");
      steps.stream()
          .flatMap(s -> STEP.matcher(s).results())
          .filter(s -> !stands(s.group(1), s.group(2), s.group(3)))
          .forEach(s -> missing.add(s.group()));
    }
    NAME.matcher(document)
        .results()
        .filter(n -> !stands("", n.group(1), n.group(2)))
        .map(MatchResult::group)
        .forEach(missing::add);
    assertThat(missing).as("named and not there").isEmpty();
  }

  /** Whether a package has a class of this name with a method of this name. */
  private static boolean stands(String folder, String name, String method) {
    return HouseTest.HOUSE.stream()
        .filter(t -> t.getSimpleName().equals(name) && folder(t).endsWith(folder))
        .anyMatch(
            t ->
                method == null
                    || t.getMethods().stream().anyMatch(m -> m.getName().equals(method)));
  }
}
