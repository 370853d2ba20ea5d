package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The archive that the build makes, unpacked elsewhere. */
class InstalledTreeIT {
  private static final Path CHECKOUT = Path.of("..").toAbsolutePath().normalize();
  private static final Path ANALYZE = Path.of("/usr/bin/systemd-analyze");

  @TempDir static Path folder;
  private static Path tree = Path.of("");

  @BeforeAll
  static void unpack() throws Exception {
    Path archive = Path.of(System.getProperty("stillwatch.tree"));
    said(folder, Map.of(), List.of("tar", "-xzf", archive.toString(), "-C", folder.toString()));
    tree = folder.resolve(archive.getFileName().toString().replace(".tar.gz", ""));
  }

  /** What a command prints to standard output; it must end well. */
  private static String said(Path where, Map<String, String> environment, List<String> line)
      throws IOException, InterruptedException {
    ProcessBuilder builder =
        new ProcessBuilder(line)
            .directory(where.toFile())
            .redirectError(ProcessBuilder.Redirect.INHERIT);
    builder.environment().clear();
    builder.environment().put("PATH", "/usr/bin:/bin");
    builder.environment().put("JAVA_HOME", System.getProperty("java.home"));
    builder.environment().put("STILLWATCH_JAVA_OPTS", "-XX:TieredStopAtLevel=1");
    builder.environment().putAll(environment);
    Process process = builder.start();
    String out = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertThat(process.waitFor()).as(out).isZero();
    return out;
  }

  /** What the checkout's launcher comes to once it has built. */
  private static String checkoutSays(List<String> line) throws Exception {
    String target = CHECKOUT.resolve("station/target").toString();
    return said(
        CHECKOUT,
        Map.of(
            "STILLWATCH_HOME",
            CHECKOUT.toString(),
            "STILLWATCH_CLASSES",
            target + "/stillwatch.jar:" + target + "/lib/*"),
        Stream.concat(
                Stream.of(CHECKOUT.resolve("station/src/main/tree/bin/stillwatch").toString()),
                line.stream())
            .toList());
  }

  private static String treeSays(List<String> line) throws Exception {
    return said(tree, Map.of(), Stream.concat(Stream.of("bin/stillwatch"), line.stream()).toList());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "--version",
        "bands --plan demo-data/larkspur/plan.yaml",
        "replay --plan demo-data/larkspur/plan.yaml --format ndjson demo-data/larkspur/leak.csv.gz"
      })
  void itSaysWhatTheCheckoutSays(String command) throws Exception {
    List<String> line = List.of(command.split(" "));
    assertThat(treeSays(line)).isNotBlank().isEqualTo(checkoutSays(line));
  }

  /** An archive of classes that another Java has made, or that is none, is left alone. */
  @Test
  void itStartsBesideAnArchiveOfClassesThatDoesNotFit() throws Exception {
    Path archive = Files.writeString(tree.resolve("classes.jsa"), "of another Java");
    try {
      assertThat(treeSays(List.of("--version"))).startsWith("Stillwatch ");
    } finally {
      Files.delete(archive);
    }
  }

  @Test
  void everyCommandHasAPageThatNamesItsOptions() throws Exception {
    Path pages = tree.resolve("share/man/man1");
    for (String command : Main.line().getSubcommands().keySet()) {
      assertThat(pages.resolve("stillwatch-" + command + ".1")).isNotEmptyFile();
    }
    assertThat(Files.readString(pages.resolve("stillwatch-journal-verify.1")))
        .contains(".SH NAME", "\\fB\\-\\-expect\\fR=\\fIHASH\\fR", "operates no valve");
  }

  @Test
  void theShellCompletesCommands() throws Exception {
    String script =
        ". share/bash-completion/completions/stillwatch; COMP_WORDS=(stillwatch hea); COMP_CWORD=1; _complete_stillwatch; echo \"${COMPREPLY[@]}\"";
    assertThat(said(tree, Map.of(), List.of("bash", "-c", script)).strip()).isEqualTo("health");
  }

  /** The units with the folder of this tree in place of the one they are written for. */
  @Test
  void systemdTakesTheUnits() throws Exception {
    assumeTrue(
        Files.isExecutable(ANALYZE),
        "skipped: systemd-analyze is not installed; apt-get install systemd");
    Path units = Files.createDirectory(folder.resolve("units"));
    try (Stream<Path> files = Files.list(tree.resolve("docs/service"))) {
      for (Path file : files.toList()) {
        Files.writeString(
            units.resolve(file.getFileName()),
            Files.readString(file).replace("/opt/stillwatch", tree.toString()));
      }
    }
    String out =
        said(
            units,
            Map.of("SYSTEMD_UNIT_PATH", units + ":"),
            List.of(
                "sh",
                "-c",
                ANALYZE + " verify --man=no ./stillwatch.service ./stillwatch-health.timer 2>&1"));
    assertThat(out).doesNotContain("Unknown", "Failed", "ignoring");
  }
}
