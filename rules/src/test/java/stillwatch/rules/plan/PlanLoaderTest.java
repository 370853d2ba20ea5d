package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.engine.RuleBook;

/** A plan with mistakes is told all of them at once. */
class PlanLoaderTest {
  @TempDir Path folder;

  @Test
  void sixMistakesAreToldAtOnceWithLineAndSuggestion() throws IOException {
    String plan = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    Path bad = folder.resolve("bad.yaml");
    Files.writeString(
        bad,
        plan.replaceFirst("unit: kPa", "unit: kPx")
            .replace("hold-point-every: 6 h", "hold-point-evry: 6 h")
            .replace("ceiling: 52 MPa", "ceiling: 52 m")
            .replace("hold: 3 h", "hold: three")
            .replace("gauge: HY-2, background", "gauge: PT-2, background")
            .replace("low-plateau:", "low-platou:"));

    assertThatThrownBy(() -> PlanLoader.load(bad, RuleBook.forPlan(bad).catalogue()))
        .isInstanceOf(PlanException.class)
        .satisfies(
            e -> {
              assertThat(e.getMessage())
                  .contains("bad.yaml:38:11: unit 'kPx'")
                  .contains(
                      "bad.yaml:105:3: unknown key 'hold-point-evry'; did you mean 'hold-point-every'?")
                  .contains("bad.yaml:101:12: unit 'm'")
                  .contains("the plan has no gauge 'PT-2' of kind sound")
                  .contains("'low-platou'");
            });
  }

  /** The demo's plan says three hours; the shipped catalogue says so too. */
  @Test
  void theClockOfTimeAtLowPressureRunsToWhatThePlanSays() throws IOException {
    Catalogue catalogue = Catalogue.shipped();

    assertThat(read("hold: 3 h", "hold: 2 h").clockS(catalogue, "low")).isEqualTo(7_200);
    assertThat(read("hold: 3 h", "release: 15 min").clockS(catalogue, "low")).isEqualTo(10_800);
    assertThatThrownBy(() -> read("A3", "A3").clockS(catalogue, "high"))
        .hasMessage("no rule runs a clock named high");
  }

  @Test
  void whatIsTrueOrFalseInAPlanIsSo() throws IOException {
    String more =
        """
        telemetry: {open: true}
        routes: {syslog: [{name: it, server: "log.example:6514", tls: true}, {name: old, server: "log.example:514", tls: false}]}
        """;
    Plan plan = read("plan: 1\n", "plan: 1\n" + more);

    assertThat(plan.openTelemetry()).isTrue();
    assertThat(plan.routes())
        .extracting(r -> ((RoutePlan.Syslog) r.way()).tls())
        .containsExactly(true, false);
  }

  private Path plan(String... changes) throws IOException {
    String plan = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    for (int i = 0; i < changes.length; i += 2) {
      assertThat(plan).contains(changes[i]);
      plan = plan.replace(changes[i], changes[i + 1]);
    }
    return Files.writeString(folder.resolve("plan.yaml"), plan);
  }

  @Test
  void aCharacterThatCannotStandInYamlIsToldWithItsPlace() {
    assertThatThrownBy(() -> read("revision: A3", "revision: A\u00073"))
        .isInstanceOf(PlanException.class)
        .hasMessageContaining(
            "plan.yaml:6:12: the character U+0007 cannot stand in YAML; take it out");
  }

  @Test
  void passesThatAreNoListAreRefusedWithTheirPlace() {
    assertThatThrownBy(() -> read("- {means: camera, every: 6 h}", "every: 6 h"))
        .isInstanceOf(PlanException.class)
        .hasMessageContaining("plan.yaml:108:");
  }

  private Plan read(String... changes) throws IOException {
    return PlanLoader.load(plan(changes), Catalogue.shipped());
  }

  @Test
  void aPlanWithoutAGaugeOfTheShutInPressureIsRefusedTogetherWithItsOtherMistakes()
      throws IOException {
    Path bad = plan("role: shut-in", "role: other", "length: 48 h", "length: 0 h");
    assertThatThrownBy(() -> PlanLoader.load(bad, Catalogue.shipped()))
        .isInstanceOf(PlanException.class)
        .hasMessageContaining(
            "plan.yaml:34:1: no gauge measures the shut-in pressure, so nobody would watch the well;"
                + " write 'role: shut-in' at the pressure gauge inside the capping assembly")
        .hasMessageContaining("the test must last longer than zero");
  }

  @Test
  void aGaugesDepthIsReadWhereThePlanSaysIt() throws IOException {
    Plan plan =
        read(
            "    twin: cap\n    role: shut-in",
            "    depth: 1395 m\n    twin: cap\n    role: shut-in");
    assertThat(plan.gauges().get(0).depthM()).isEqualTo(1395);
    assertThat(plan.gauges().get(2).depthM()).isNaN();
    Path up = plan("    role: ambient", "    role: ambient\n    depth: -3 m");
    assertThatThrownBy(() -> PlanLoader.load(up, Catalogue.shipped()))
        .hasMessageContaining("a depth is counted down from the sea's surface");
  }

  @Test
  void whatOperationsMayDoIsThePlansOrTheUsual() throws IOException {
    assertThat(read().operations()).isEqualTo(OperationLimits.USUAL);
    assertThat(read().surroundings()).isEqualTo(Surroundings.USUAL);
    Plan plan =
        read(
            "recordings:",
            """
            operations:
              closure-step: {overshoot: 5 %, within: 3 min}
              opening-step: {fall: 2 MPa}
              valve: {fall: 80 kPa, rise: 0 kPa, within: 1 min, returns: 0 s}
            presence: {longest-stay: 3 h}
            tide: {amplitude: 12 kPa}
            recordings:""");
    OperationLimits limits = plan.operations();
    assertThat(limits.closureStep().fallKPa(1000)).as("of the rise it made").isEqualTo(50);
    assertThat(limits.closureStep().fallKPa(-5)).as("a closure that made none").isZero();
    assertThat(limits.openingStep().fallKPa(0)).isEqualTo(2000);
    assertThat(limits.openingStep().within()).isEqualTo(Duration.ofMinutes(30));
    assertThat(limits.valve())
        .isEqualTo(
            new OperationLimit(
                80, Double.POSITIVE_INFINITY, 0, Duration.ofMinutes(1), Optional.empty()));
    assertThat(limits.lineUp().returns()).contains(Duration.ofMinutes(10));
    assertThat(limits.of(Operation.What.LINE_UP)).contains(limits.lineUp());
    assertThat(limits.of(Operation.What.VESSEL)).isEmpty();
    assertThat(plan.surroundings()).isEqualTo(new Surroundings(Duration.ofHours(3), 12));
  }

  @Test
  void whatAnOperationCannotDoIsRefused() throws IOException {
    Path bad =
        plan(
            "recordings:",
            "operations: {valve: {within: 0 s, fall: -3 kPa, overshoot: 1 %}}\n\nrecordings:");
    assertThatThrownBy(() -> PlanLoader.load(bad, Catalogue.shipped()))
        .hasMessageContaining("must be 1 s or longer")
        .hasMessageContaining("cannot be below zero")
        .hasMessageContaining("unknown key 'overshoot'");
  }
}
