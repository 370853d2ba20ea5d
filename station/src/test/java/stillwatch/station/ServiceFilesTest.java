package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.Reader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.constructor.SafeConstructor;

/** The files that start it as a service name commands and options that the program has. */
class ServiceFilesTest {
  private static final String PROGRAM = "/opt/stillwatch/bin/stillwatch";

  /** Command lines after the program's name; those that the program cannot read fail. */
  private static void assertReadable(List<List<String>> lines) {
    for (List<String> line : lines) {
      assertThat(Main.line().parseArgs(line.toArray(String[]::new)).hasSubcommand())
          .as(line.toString())
          .isTrue();
    }
  }

  @Test
  void theUnitsOfSystemd() throws IOException {
    List<List<String>> lines = new ArrayList<>();
    try (Stream<Path> units = Files.list(Path.of("../docs/service"))) {
      for (Path unit : units.toList()) {
        for (String line : Files.readAllLines(unit)) {
          if (line.startsWith("ExecStart=" + PROGRAM)) {
            lines.add(List.of(line.substring(line.indexOf(' ') + 1).split(" ")));
          }
        }
      }
    }
    assertThat(lines).hasSize(2);
    assertReadable(lines);
  }

  @Test
  void theServicesOfTheComposeFile() throws IOException {
    List<List<String>> lines = new ArrayList<>();
    try (Reader file = Files.newBufferedReader(Path.of("../docker-compose.yml"))) {
      Object loaded = new Yaml(new SafeConstructor(new LoaderOptions())).load(file);
      new ObjectMapper()
          .valueToTree(loaded)
          .path("services")
          .forEach(
              service -> {
                if (service.path("image").asText().equals("stillwatch")) {
                  List<String> command = new ArrayList<>();
                  service.path("command").forEach(word -> command.add(word.asText()));
                  lines.add(command);
                  List<String> test = new ArrayList<>();
                  service.path("healthcheck").path("test").forEach(w -> test.add(w.asText()));
                  assertThat(test).startsWith("CMD", PROGRAM);
                  lines.add(test.subList(2, test.size()));
                }
              });
    }
    assertThat(lines).hasSize(6);
    assertReadable(lines);
  }
}
