package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.well.Uncertain;

/** What a plan says of the reopening, and what it is refused for. */
class ReopeningPlanTest {
  private static final String GOOD =
      """
      reopening:
        expected-flow: {low: 500 m3/d, high: 600 m3/d}
        outlets:
          - {name: top, capacity: 900 m3/d}
          - {name: side}
        units:
          - {name: A, outlet: top, capacity: "3000 [bbl_us]/d", availability: 95 %, time-to-connect: 12 h, back-after-weather: 30 h}
          - {name: B, outlet: side, capacity: {mean: 400 m3/d, deviation: 20 m3/d}, availability: 0.9, time-to-connect: 1 d}
        weather: {every: 20 d, lasts: 40 h}

      """;

  @TempDir Path folder;

  private Path plan(String reopening) throws IOException {
    String plan = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    int from = plan.indexOf("reopening:");
    return Files.writeString(
        folder.resolve("plan.yaml"),
        plan.substring(0, from) + reopening + plan.substring(plan.indexOf("recordings:\n", from)));
  }

  private Plan load(String reopening) throws IOException {
    return PlanLoader.load(plan(reopening), Catalogue.shipped());
  }

  @Test
  void everyFieldIsReadInItsUnit() throws IOException {
    Reopening r = load(GOOD).reopening().orElseThrow();
    assertThat(r.expectedFlow()).isEqualTo(Uncertain.between(500, 600));
    assertThat(r.outlets().get(0).capacity()).contains(Uncertain.known(900));
    assertThat(r.outlets().get(1)).isEqualTo(new Reopening.Outlet("side", Optional.empty()));
    Reopening.CollectionUnit a = r.units().get(0);
    // a barrel is 42 gallons of 231 cubic inches of 16.387064 cm³
    assertThat(a.capacity().likely()).isCloseTo(3000 * 42 * 231 * 16.387064e-6, within(1e-9));
    assertThat(a.availability()).isCloseTo(0.95, within(1e-12));
    assertThat(a.timeToConnect()).isEqualTo(Duration.ofHours(12));
    assertThat(a.backAfterWeather()).contains(Duration.ofHours(30));
    assertThat(r.units().get(1).backAfterWeather()).isEmpty();
    assertThat(r.weather())
        .contains(new Reopening.Weather(Duration.ofDays(20), Duration.ofHours(40)));
  }

  @Test
  void aPlanNeedNotSayAnythingOfIt() throws IOException {
    assertThat(load("").reopening()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "availability: 95 % | availability: 101 % | above 0 % and up to 100 %",
        "availability: 95 % | availability: 0 % | above 0 % and up to 100 %",
        "outlet: side | outlet: sid | there is no outlet 'sid' under 'reopening'; did you mean 'side'?",
        "outlet: side | outlet: top | no unit takes what comes through 'side'",
        "name: B | name: A | unit 'A' stands twice",
        "{name: side} | {name: top} | outlet 'top' stands twice",
        "3000 [bbl_us]/d | 3000 MPa | unit 'MPa' is not known for flow",
        "3000 [bbl_us]/d | 3000 | lacks its unit",
        "900 m3/d | 0 m3/d | must be above zero, its lowest value too",
        "deviation: 20 m3/d | deviation: 200 m3/d | three deviations below its mean too",
        "low: 500 m3/d | low: 700 m3/d | low must be below high",
        "time-to-connect: 12 h | time-to-connect: 0 h | must be longer than zero",
        "every: 20 d | every: -20 d | is the mean time from one storm's end to the next; it must be longer than zero",
        "  weather: {every: 20 d, lasts: 40 h} | '' | says when it is back, and no weather takes it away",
        ", back-after-weather: 30 h | '' | takes no unit away; say 'back-after-weather'",
        "capacity: 900 | capacty: 900 | unknown key 'capacty'; did you mean 'capacity'?",
        ", time-to-connect: 1 d | '' | the key 'time-to-connect' is missing here",
        "expected-flow | expected-flo | unknown key 'expected-flo'; did you mean 'expected-flow'?",
      })
  void whatIsWrongIsToldInOneSentenceWithItsPlace(String good, String bad, String told)
      throws IOException {
    assertThat(GOOD).contains(good);
    Path file = plan(GOOD.replace(good, bad));
    assertThatThrownBy(() -> PlanLoader.load(file, Catalogue.shipped()))
        .isInstanceOf(PlanException.class)
        .hasMessageContaining(told)
        .message()
        .matches(m -> m.lines().allMatch(l -> l.matches(".*plan\\.yaml:1[0-9]{2}:\\d+: .+")));
  }

  @Test
  void noUnitAndTooManyUnitsAreRefused() throws IOException {
    String units = GOOD.substring(GOOD.indexOf("    - {name: A"), GOOD.indexOf("  weather"));
    Path none = plan(GOOD.replace("units:\n" + units, "units: []\n"));
    assertThatThrownBy(() -> PlanLoader.load(none, Catalogue.shipped()))
        .hasMessageContaining("list the vessels and lines that would, one at least");
    StringBuilder many = new StringBuilder(units);
    for (int i = 0; i < 11; i++) {
      many.append(
          "    - {name: N%d, outlet: side, capacity: 4 m3/d, availability: 0.9, time-to-connect: 1 d}\n"
              .formatted(i));
    }
    Path more = plan(GOOD.replace(units, many));
    assertThatThrownBy(() -> PlanLoader.load(more, Catalogue.shipped()))
        .hasMessageContaining("13 units are more than all states can be counted of; list 12");
  }
}
