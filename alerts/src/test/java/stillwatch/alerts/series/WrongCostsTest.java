package stillwatch.alerts.series;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.watch.Collecting;

/**
 * The costs of being wrong, by hand from the demo's facts: 7200 to 8400 m³/d flowed, so one
 * hundredth of the flow is 3.0 to 3.5 m³ an hour; 7000 to 8400 m³/d would flow again.
 */
class WrongCostsTest {
  private static final Path DEMO = Path.of("../demo-data/larkspur/plan.yaml");

  @TempDir Path folder;

  private Plan without(String begin, String end) throws IOException {
    String plan = Files.readString(DEMO);
    int from = begin.isEmpty() ? 0 : plan.indexOf(begin);
    int to = begin.isEmpty() ? 0 : plan.indexOf(end, from);
    Path file = folder.resolve("plan.yaml");
    Files.writeString(file, plan.substring(0, from) + plan.substring(to));
    return PlanLoader.load(file, Catalogue.shipped());
  }

  private static Optional<JsonNode> review(String candidates) throws JsonProcessingException {
    return Optional.of(
        new ObjectMapper()
            .readTree("{\"at\":\"2026-03-11T14:10:00Z\",\"candidates\":[" + candidates + "]}"));
  }

  private static final String SEA =
      "{\"name\":\"leak into the sea\",\"leak_low\":0.01,\"leak_high\":0.02}";
  private static final String ROCK = "{\"name\":\"leak into rock\"}";
  private static final String INTACT = "{\"name\":\"intact, as the facts say\"}";

  @Test
  void eachLeakCostsItsShareOfTheFlowByTheHourAndAnIntactWellWhatIsNotCollected()
      throws IOException {
    List<WrongCosts.Row> rows =
        new WrongCosts(without("", "")).rows(review(SEA + "," + INTACT + "," + ROCK), List.of());
    assertThat(rows)
        .extracting(WrongCosts.Row::explanation)
        .containsExactly("leak into the sea", "leak into rock", "an intact well");
    assertThat(rows.get(0).error()).isEqualTo("kept shut");
    assertThat(rows.get(0).cost())
        .startsWith("3.0 to 7.0 m³ an hour leave the well (1.0 to 2.0 % of the flow).");
    assertThat(rows.get(0).assumes()).startsWith("Leak as of 2026-03-11 14:10:00 UTC");
    assertThat(rows.get(1).cost())
        .startsWith("0 to 350 m³ an hour leave the well (no size can be told).")
        .contains(
            "shoe of the intermediate casing: closes again once pressure is taken off: no; lost by waiting: the rock")
        .endsWith(
            "shoe of the liner: closes again once pressure is taken off: unknown; lost by waiting: not stated.");
    assertThat(rows.get(2).error()).isEqualTo("reopened");
    assertThat(rows.get(2).cost())
        .startsWith("292 to 350 m³ an hour flow; 0 m³ an hour of it are not collected.")
        .contains("The capacity is at least the flow in 100.0 % of the draws (95 %: 99.8 to 100.0");
  }

  /** The two units left take 7800 to 8600 m³/d: 600 less than 8400. */
  @Test
  void aLostUnitIsTakenOffWhatCouldBeCollected() throws IOException {
    Collecting.Unit west = new Collecting.Unit("collection vessel west", true, 0, "", "");
    Collecting.Unit east = new Collecting.Unit("collection vessel east", false, 0, "", "");
    WrongCosts costs = new WrongCosts(without("", ""));
    assertThat(costs.rows(Optional.empty(), List.of(east)).get(1).cost())
        .contains("; 0 m³ an hour of it");
    assertThat(costs.rows(Optional.empty(), List.of(east, west)).get(1).cost())
        .contains("0 to 25.0 m³ an hour of it are not collected without collection vessel west.");
    assertThat(costs.rows(Optional.empty(), List.of()).get(1).cost())
        .contains("; 0 m³ an hour of it");
  }

  @Test
  void whatIsMissingIsNamed() throws IOException {
    assertThat(new WrongCosts(without("", "")).rows(Optional.empty(), List.of()).get(0).cost())
        .isEqualTo("Not known: no explanations of this shut-in have been compared.");
    assertThat(
            new WrongCosts(without("  flow:", "  reservoir:"))
                .rows(review(SEA), List.of())
                .get(0)
                .cost())
        .startsWith(
            "Not known in volumes (1.0 to 2.0 % of the flow): the facts have no flow (facts: flow).");
    assertThat(
            new WrongCosts(without("  leaks:", "  hydrophones:"))
                .rows(review(ROCK), List.of())
                .get(0)
                .cost())
        .startsWith("Not known: the facts name no rock that takes fluid (facts: leaks).");
    assertThat(
            new WrongCosts(without("reopening:", "recordings:"))
                .rows(review(SEA), List.of())
                .get(1)
                .cost())
        .contains("the plan does not say what would flow");
  }
}
