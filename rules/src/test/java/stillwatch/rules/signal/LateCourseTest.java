package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import net.jqwik.api.Assume;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;

/** The largest change of a backlog and when it began, against a look over the whole of it. */
class LateCourseTest {
  private static final long START = 1_772_967_600_000L;

  private static double[] medians(double[] values) {
    double[] medians = new double[values.length];
    for (int i = 0; i < values.length; i++) {
      double[] three = Arrays.copyOfRange(values, Math.max(0, i - 2), i + 1);
      Arrays.sort(three);
      medians[i] = three.length == 2 ? Double.NaN : three[three.length / 2];
    }
    return medians;
  }

  private static LateCourse course(double before, double... values) {
    LateCourse course = new LateCourse(before);
    for (int i = 0; i < values.length; i++) {
      course.accept(START + i * 1000L, values[i]);
    }
    return course;
  }

  /** Two readings have no middle one: the first of them is given three times. */
  private static double[] led(List<Integer> levels) {
    double[] values = new double[levels.size() + 2];
    for (int i = 0; i < values.length; i++) {
      values[i] = levels.get(Math.max(0, i - 2));
    }
    return values;
  }

  @Property(seed = "20260308")
  void theChangeIsTheLargestDepartureOfTheMedianAndBeganWhereItLastWasSmallBesideIt(
      @ForAll @Size(min = 3, max = 60) List<@IntRange(min = -1000, max = 1000) Integer> levels) {
    double[] values = led(levels);
    double[] medians = medians(values);
    medians[1] = values[0];
    int largest = 0;
    for (int i = 0; i < medians.length; i++) {
      largest = Math.abs(medians[i]) > Math.abs(medians[largest]) ? i : largest;
    }
    Assume.that(medians[largest] != 0); // what never departs has no beginning
    LateCourse course = course(0, values);
    assertThat(course.change()).isEqualTo(medians[largest]);
    assertThat(course.onsetMs())
        .isBetween(lastUnder(medians, largest, 0.05), lastUnder(medians, largest, 0.1));
  }

  /** When the departure was last less than this share of the largest, before it. */
  private static long lastUnder(double[] departures, int largest, double share) {
    int last = 0;
    for (int i = 0; i < largest; i++) {
      last = Math.abs(departures[i]) < share * Math.abs(departures[largest]) ? i : last;
    }
    return START + last * 1000L;
  }

  /** A gauge of coarse resolution stands one step off for minutes, and then falls. */
  @Test
  void aFallBeginsWhereItBeganThoughTheLevelStoodALittleOffBefore() {
    double[] values = new double[600];
    Arrays.fill(values, 0, 300, 46_001);
    Arrays.fill(values, 300, 600, 45_200);
    LateCourse course = course(46_000, values);
    assertThat(course.change()).isEqualTo(-800);
    assertThat(course.onsetMs()).isBetween(START + 298_000, START + 301_000);
  }

  @Test
  void whatHadFallenBeforeItsFirstReadingBeganThereAtTheLatest() {
    LateCourse course = course(46_000, 45_000, 45_000, 45_000, 45_000);
    assertThat(course.change()).isEqualTo(-1000);
    assertThat(course.onsetMs()).isEqualTo(START);
    assertThat(course.fromMs()).isEqualTo(START);
  }

  @Test
  void aReadingThatIsNoLaterThanTheLastIsLeftOut() {
    LateCourse course = new LateCourse(100);
    for (int i = 0; i < 5; i++) {
      course.accept(START, 100 - 10 * i);
    }
    assertThat(course.change()).isZero();
  }
}
