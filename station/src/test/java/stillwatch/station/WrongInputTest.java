package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a user can get wrong: exit 2, one clear line a mistake, no trace. */
class WrongInputTest {
  private static final Path PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml");

  @TempDir Path folder;

  private static Outcome replay(Path plan, Path recording) {
    return Outcome.inside("replay", "--plan", plan.toString(), recording.toString());
  }

  private Path file(String name, byte[] bytes) throws IOException {
    return Files.write(folder.resolve(name), bytes);
  }

  @Test
  void aMissingAnEmptyABinaryRecordingAndAWrongColumn() throws Exception {
    byte[] binary = new byte[5000];
    new Random(1).nextBytes(binary);
    List<Path> wrong =
        List.of(
            folder.resolve("missing.csv"),
            file("empty.csv", new byte[0]),
            file("binary.csv.gz", binary),
            file(
                "columns.csv",
                "zeit,received,operation,PT-1,PT-2,PA-1,TT-1,HY-1,HY-2,TI-1\n"
                    .getBytes(StandardCharsets.UTF_8)));
    for (Path recording : wrong) {
      Outcome outcome = replay(PLAN, recording);
      assertThat(outcome.exit()).as(recording.toString()).isEqualTo(2);
      assertThat(outcome.lines())
          .as(recording.toString())
          .singleElement()
          .asString()
          .contains(recording.getFileName().toString());
    }
  }

  @Test
  void aPlanWithFiveMistakesTellsFiveLines() throws Exception {
    String plan =
        Files.readString(PLAN)
            .replace("kind: tilt", "kind: tilted")
            .replace("unit: Cel\n", "unit: Celsius\n")
            .replace("ceiling: 52 MPa", "ceiling: 52")
            .replace("hold: 3 h", "hodl: 3 h")
            .replace("length: 48 h", "lenght: 48 h");
    Outcome outcome = replay(file("plan.yaml", plan.getBytes(StandardCharsets.UTF_8)), PLAN);
    assertThat(outcome.exit()).isEqualTo(2);
    assertThat(outcome.lines())
        .hasSize(5)
        .allMatch(l -> l.matches(".*plan\\.yaml:[0-9]+:[0-9]+: .*"));
  }

  @Test
  void aBrokerThatIsNotThereAndAnUnknownOption() throws Exception {
    assertThat(Outcome.of("rules", "--plan", PLAN.toString(), "--broker", "127.0.0.1:1"))
        .satisfies(o -> assertThat(o.exit()).isEqualTo(2))
        .satisfies(
            o -> assertThat(o.lines()).anyMatch(l -> l.contains("127.0.0.1:1 does not answer")));
    assertThat(Outcome.inside("watch", "--plam", "x").exit()).isEqualTo(2);
    assertThat(
            Outcome.inside("ready", "--plan", PLAN.toString(), "--client-properties", "x")
                .refusal())
        .contains("--client-properties", "give --broker");
    assertThat(Outcome.inside("watch", "--plan", PLAN.toString(), "--data", "").refusal())
        .contains("--data: names no folder; give one");
    assertThat(replay(PLAN, Path.of("missing.csv")).refusal()).contains("missing.csv");
  }

  @Test
  void twoPlansOfOneWellAreRefusedBeforeAnythingIsOpened() throws Exception {
    Path copy = Files.copy(PLAN, folder.resolve("copy.yaml"));
    for (String command : List.of("rules", "intake")) {
      assertThat(Outcome.inside(command, "--plan", PLAN.toString(), "--plan", copy.toString()))
          .as(command)
          .satisfies(
              o ->
                  assertThat(o.refusal())
                      .contains("plan.yaml", "copy.yaml", "both are of well larkspur-2"));
    }
  }

  @Test
  void everyCommandHasHelpAndItCarriesTheCautions() throws Exception {
    for (String command : List.of("watch", "replay", "drill", "intake", "rules", "alerts")) {
      assertThat(Outcome.inside(command, "--help").exit()).as(command).isZero();
    }
  }

  /** A wrong value is told in one line of plain words, without a name of a Java class. */
  @Test
  void aWrongValueIsToldInPlainWords() throws Exception {
    Map<List<String>, String> wrong =
        Map.of(
            List.of("watch", "--speed", "fast"),
            "'fast' is not a number",
            List.of("watch", "--http", "web"),
            "'web' is not a whole number",
            List.of("watch", "--from", "yesterday"),
            "'yesterday' is not a moment in UTC",
            List.of("watch", "--demo", "--plan", PLAN.toString()),
            "the demo has its own plan",
            List.of("watch", "--scenario", "leak"),
            "--scenario leak: needs --demo",
            List.of("rules", "--plan", PLAN.toString(), "--otlp", "localhost:4318"),
            "--otlp localhost:4318: no address of a receiver",
            List.of("watch", "--by", "modbus"),
            "--by modbus: needs --demo",
            List.of("bands", "--plan", PLAN.toString(), "--picture", "x.png"),
            "as SVG only");
    for (Map.Entry<List<String>, String> e : wrong.entrySet()) {
      Outcome outcome = Outcome.inside(e.getKey().toArray(String[]::new));
      assertThat(outcome.exit()).as(e.getKey().toString()).isEqualTo(2);
      assertThat(outcome.lines().get(0))
          .contains(e.getValue())
          .doesNotContain("java.", "Exception");
    }
  }

  /** What cannot be used is named, with what to do, wherever it is met. */
  @Test
  void aPathAnAddressOrAFormThatCannotBeUsedIsToldInOneSentence() throws Exception {
    String plan = PLAN.toString();
    String scenario = WatchProcess.LARKSPUR.resolve("scenarios/leak.yaml").toString();
    String nowhere = folder.resolve("none").resolve("o.svg").toString();
    byte[] list = "[]".getBytes(StandardCharsets.UTF_8);
    String endless = Files.readString(Path.of(scenario)).replaceFirst("hours: .*", "hours: 1e9");
    String deep = file("deep.yaml", "[".repeat(200).getBytes(StandardCharsets.UTF_8)).toString();
    String aList = file("list.yaml", list).toString();
    String long1 = file("long.yaml", endless.getBytes(StandardCharsets.UTF_8)).toString();
    String out = folder.resolve("o.csv").toString();
    Map<List<String>, String> wrong =
        Map.of(
            List.of("bands", "--plan", plan, "--picture", nowhere), "no folder for it",
            List.of("drill", "--scenario", scenario, "--out", nowhere), "no folder for it",
            List.of("drill", "--scenario", scenario, "--out", "" + folder), "Is a directory",
            List.of("drill", "--scenario", aList, "--out", out), "docs/drills.md",
            List.of("drill", "--scenario", long1, "--out", out), "at most 8784",
            List.of("check", "--plan", deep), "deep.yaml:1:1: not readable as YAML",
            List.of("rules", "--plan", plan, "--broker", "frob"), "give HOST:PORT",
            List.of("health", "--url", "http://[::/"), "is not an address",
            List.of("health", "--url", "http://127.0.0.1:99999/"), "give a whole address",
            List.of("health", "--within", "x"), "is not a whole number");
    for (Map.Entry<List<String>, String> e : wrong.entrySet()) {
      Outcome outcome = Outcome.inside(e.getKey().toArray(String[]::new));
      assertThat(outcome.exit()).as(e.getKey().toString()).isEqualTo(2);
      assertThat(outcome.lines().get(0)).contains(e.getValue()).doesNotContain("java", "kafka");
    }
  }

  /** A leak of no size, or planted never, would make limits that saw nothing look good. */
  @Test
  void aLeakThatIsNoneIsNotPlanted() {
    String[] tune = {"tune", "--plan", PLAN.toString(), "--out", folder + "/o", "x.csv"};
    for (String[] more :
        new String[][] {{"--plant", "-50 kPa"}, {"--plant", "5 kPa", "--plantings", "0"}}) {
      String[] all = Arrays.copyOf(tune, tune.length + more.length);
      System.arraycopy(more, 0, all, tune.length, more.length);
      assertThat(Outcome.inside(all).refusal()).containsAnyOf("above 0", "from 1 to 1000");
    }
  }

  /** A checkout has a folder of that name, and it is no rule book. */
  @Test
  void aFolderNamedRulesWithoutRulesIsNoRuleBook() throws Exception {
    Path plan = Files.copy(PLAN, folder.resolve("my-plan.yaml"));
    Path other = Files.createDirectories(folder.resolve("rules/src"));
    Outcome fine = Outcome.inside("check", "--plan", plan.toString());
    assertThat(fine.exit()).isZero();
    Files.writeString(other.resolveSibling("mine.epl"), "select 1");
    Outcome refused = Outcome.inside("check", "--plan", plan.toString());
    assertThat(refused.exit()).isEqualTo(2);
    assertThat(refused.lines().get(0)).contains("catalogue.yaml");
  }

  @Test
  void aCheckedPlanTellsWhatCannotBeSeenWithIt() throws Exception {
    String text = Files.readString(PLAN);
    assertThat(unseen(Files.writeString(folder.resolve("a.yaml"), text)))
        .doesNotContain("only one gauge", "no gauge has the role ambient");
    assertThat(
            unseen(
                Files.writeString(
                    folder.resolve("b.yaml"), text.replace("role: ambient", "role: other"))))
        .contains("no gauge has the role ambient");
  }

  private static String unseen(Path plan) throws Exception {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    PrintStream before = System.out;
    System.setOut(new PrintStream(out, true, StandardCharsets.UTF_8));
    try {
      assertThat(Main.run("check", "--plan", plan.toString())).isZero();
    } finally {
      System.setOut(before);
    }
    return out.toString(StandardCharsets.UTF_8);
  }
}
