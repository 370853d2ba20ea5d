package stillwatch.alerts.room;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.well.ExpectedPressures;

/** The expected course is that of {@code bands}, at any hour. */
class ExpectedCourseTest {
  private static final Path LARKSPUR = Path.of("../demo-data/larkspur/plan.yaml");

  private static Plan plan(Path file) throws IOException {
    return PlanLoader.load(file, Catalogue.shipped());
  }

  /** Radial flow rises by the logarithm of time, so the hour of mean logarithm has the mean. */
  @Test
  void betweenTheHoursDrawnItFollowsTheLogarithmOfTime() throws IOException {
    ExpectedCourse course = new ExpectedCourse(plan(LARKSPUR));
    ExpectedPressures.AtTime a = course.all().get(3);
    ExpectedPressures.AtTime b = course.all().get(4);

    ExpectedCourse.Expected at = course.at(a.hours()).orElseThrow();
    assertThat(at.low()).isEqualTo(a.pressure().p10());
    assertThat(at.middle()).isEqualTo(a.pressure().p50());
    assertThat(at.high()).isEqualTo(a.pressure().p90());
    assertThat(course.at(Math.sqrt(a.hours() * b.hours())).orElseThrow().middle())
        .isCloseTo((a.pressure().p50() + b.pressure().p50()) / 2, within(1e-6));
  }

  @Test
  void beforeTheFirstHourNothingIsExpectedAndAfterTheLastWhatWasLast() throws IOException {
    ExpectedCourse course = new ExpectedCourse(plan(LARKSPUR));
    ExpectedPressures.AtTime last = course.all().get(course.all().size() - 1);

    assertThat(course.at(Double.NaN)).isEmpty();
    assertThat(course.at(course.all().get(0).hours() / 2)).isEmpty();
    assertThat(course.at(10 * last.hours()).orElseThrow().middle())
        .isEqualTo(last.pressure().p50());
  }

  @Test
  void withoutFactsNothingIsExpected(@TempDir Path folder) throws IOException {
    String plan = Files.readString(LARKSPUR);
    int from = plan.indexOf("\nfacts:");
    int to = plan.indexOf("\n\n", from);
    assertThat(from).isPositive();
    Path without =
        Files.writeString(
            folder.resolve("plan.yaml"), plan.substring(0, from) + plan.substring(to));

    ExpectedCourse course = new ExpectedCourse(plan(without));
    assertThat(course.all()).isEmpty();
    assertThat(course.at(3)).isEmpty();
  }
}
