package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The document on licences names what the archive holds. */
class LicensingIT {
  private static final List<Path> LIBRARIES =
      List.of(Path.of("target/lib"), Path.of("../fieldbus/target/lib"));
  private static final Pattern ROW = Pattern.compile("\\| [^|]+ \\| ([^|]+) \\|");

  @Test
  void everyLibraryThatIsShippedStandsInTheTableAndNoOther() throws IOException {
    List<String> shipped = new ArrayList<>();
    for (Path folder : LIBRARIES) {
      try (Stream<Path> jars = Files.list(folder)) {
        List<String> names =
            jars.map(j -> j.getFileName().toString().replaceFirst("-[0-9][^/]*\\.jar$", ""))
                .filter(name -> !name.startsWith("stillwatch-"))
                .toList();
        assertThat(names).isNotEmpty();
        shipped.addAll(names);
      }
    }
    Set<String> named =
        Sources.text("docs/licensing.md")
            .lines()
            .map(ROW::matcher)
            .filter(m -> m.matches() && !m.group(1).equals("libraries"))
            .flatMap(m -> Stream.of(m.group(1).split(", ", -1)))
            .collect(Collectors.toSet());
    assertThat(named).containsExactlyInAnyOrderElementsOf(Set.copyOf(shipped));
  }
}
