package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.account.Change;

/** A fall that has become even is no recovery, and whoever reads the sentence must see so. */
class CourseWordsTest {
  private static Change lost(double before, double level, double peak) {
    return new Change(
        "c",
        "pressure",
        "sudden-drop",
        0,
        before - level,
        peak,
        before,
        level,
        List.of(),
        "",
        List.of(),
        Change.State.OPEN,
        "",
        0);
  }

  private static CourseWords of(Map<String, Double> numbers) {
    return new CourseWords(new Words(Map.of(Kind.PRESSURE, "MPa")), numbers);
  }

  @Test
  void aWellThatStillFallsIsNotRecovered() {
    CourseWords words = of(Map.of("level", 43_173.0, "slope", -1_875.0));
    assertThat(words.course()).isEqualTo("Still falls, 1.88 MPa/h, evenly.");
    assertThat(words.recovery(lost(45_080, 43_173, 1907), "11:30:00 UTC"))
        .isEqualTo("NOT recovered: 43.173 MPa, 1.91 MPa below 45.08 MPa before 11:30:00 UTC.");
    assertThat(words.trend()).isEqualTo("falling 1.88 MPa/h");
  }

  @Test
  void oneThatIsBackIsRecovered() {
    CourseWords words = of(Map.of("level", 45_075.0, "slope", 12.0, "slopeError", 2.04));
    assertThat(words.course()).isEqualTo("Rises again, 0.012 MPa/h.");
    assertThat(words.trend()).isEqualTo("rising 0.012 MPa/h (± 0.002 MPa/h)");
    assertThat(words.recovery(lost(45_080, 45_075, 30), "11:30:00 UTC"))
        .isEqualTo("Recovered: 45.075 MPa, 45.08 MPa before 11:30:00 UTC.");
  }

  @Test
  void withinItsErrorASlopeIsFlat() {
    CourseWords words = of(Map.of("level", 45_060.0, "slope", -1.5, "slopeError", 1.8));
    assertThat(words.trend()).isEqualTo("flat (± 0.0018 MPa/h)");
    assertThat(words.recovery(lost(45_080, 45_060, 30), "11:30:00 UTC"))
        .startsWith("NOT recovered");
  }

  @Test
  void whatIsNotKnownIsNotSaid() {
    assertThat(of(Map.of()).trend()).isEmpty();
    assertThat(of(Map.of()).recovery(lost(45_080, 45_060, 30), "11:30:00 UTC")).isEmpty();
    assertThat(of(Map.of("level", 45_000.0)).recovery(null, "11:30:00 UTC")).isEmpty();
  }
}
