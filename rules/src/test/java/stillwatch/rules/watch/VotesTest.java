package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.rules.indicator.GaugeIndicator;

/**
 * Voting by so many of a group. Two of three, and what becomes of it when members fall out: IEC
 * 61508-6:2010, annex B.
 */
class VotesTest {
  private static final double UNKNOWN = Double.NaN;

  /** Gauges that are called by their numbers; nothing else of them is read here. */
  private static List<GaugeIndicator> gauges(int count) {
    List<GaugeIndicator> gauges = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      gauges.add((GaugeIndicator) blank(GaugeIndicator.class, String.valueOf(i)));
    }
    return gauges;
  }

  private static Object blank(Class<?> type, String text) {
    if (type == String.class) {
      return text;
    } else if (type == boolean.class) {
      return false;
    } else if (type == int.class) {
      return 0;
    } else if (type == long.class) {
      return 0L;
    } else if (type == double.class) {
      return 0.0;
    }
    try {
      RecordComponent[] parts = type.getRecordComponents();
      Class<?>[] types =
          Arrays.stream(parts).map(RecordComponent::getType).toArray(Class<?>[]::new);
      Object[] values = Arrays.stream(types).map(t -> blank(t, text)).toArray();
      return type.getDeclaredConstructor(types).newInstance(values);
    } catch (ReflectiveOperationException e) {
      throw new LinkageError("cannot make a blank " + type, e);
    }
  }

  private static Votes votes(int needed, double... values) {
    return new Votes(gauges(values.length), needed).on(g -> values[Integer.parseInt(g.gauge())]);
  }

  /** Each right with 0.9: two of three are right with 0.972; with 0.99, 0.999702. */
  @ParameterizedTest
  @CsvSource({"0.9, 0.972", "0.99, 0.999702"})
  void twoOfThreeAreRightAsOftenAsTheBinomialLawSays(double each, double together) {
    double byWrongOnes = 0;
    double bySilentOnes = 0;
    for (int pattern = 0; pattern < 8; pattern++) {
      double probability = 1;
      double[] wrong = new double[3];
      double[] silent = new double[3];
      for (int gauge = 0; gauge < 3; gauge++) {
        boolean right = (pattern >> gauge & 1) == 1;
        probability *= right ? each : 1 - each;
        wrong[gauge] = right ? 1 : 0;
        silent[gauge] = right ? 1 : UNKNOWN;
      }
      byWrongOnes += votes(2, wrong).reached() >= 1 ? probability : 0;
      bySilentOnes += votes(2, silent).reached() >= 1 ? probability : 0;
    }
    assertThat(byWrongOnes).isCloseTo(together, within(1e-12));
    assertThat(bySilentOnes).isCloseTo(together, within(1e-12));
  }

  /** The same for not raising: two of three are needed, so one wrong raiser is outvoted. */
  @Test
  void oneOfThreeNeitherRaisesNorHides() {
    assertThat(votes(2, 1500, 0, 0).reached()).isZero();
    assertThat(votes(2, 1500, 1500, 0).reached()).isEqualTo(1500);
    assertThat(votes(2, 1500, 0, 0).under()).isZero();
    assertThat(votes(2, 1500, 1500, 0).under()).isEqualTo(1500);
  }

  /** Two of three with one out become two of two, which both must show. */
  @Test
  void withOneOutTwoOfThreeBecomeTwoOfTwo() {
    assertThat(votes(2, 1500, UNKNOWN, 1400).reached()).isEqualTo(1400);
    assertThat(votes(2, 1500, UNKNOWN, 0).reached()).isZero();
    assertThat(votes(2, 1500, UNKNOWN, 1400).under()).isEqualTo(1500);
  }

  /** With two out there is no vote of two, and nobody's value passes for one. */
  @Test
  void withTwoOutThereIsNoVoteUnlessOneIsAskedFor() {
    assertThat(votes(2, UNKNOWN, UNKNOWN, 1400).reached()).isNaN();
    assertThat(votes(2, UNKNOWN, UNKNOWN, 1400).under()).isNaN();
    assertThat(votes(1, UNKNOWN, UNKNOWN, 1400).reached()).isEqualTo(1400);
    assertThat(votes(1, 1400).reached()).isEqualTo(1400);
    assertThat(votes(1, UNKNOWN).reached()).isNaN();
    assertThat(votes(1).reached()).isNaN();
  }

  /** What holds for all of them is not said while one of them is not known. */
  @Test
  void theLargestAndTheLeastAreNotSaidWhileOneIsNotKnown() {
    assertThat(votes(2, 3, 1, 2).largest()).isEqualTo(3);
    assertThat(votes(2, 3, 1, 2).least()).isEqualTo(1);
    assertThat(votes(2, 3, UNKNOWN, 2).largest()).isNaN();
    assertThat(votes(2, 3, UNKNOWN, 2).least()).isNaN();
    assertThat(votes(2, 3, UNKNOWN, 2).second()).isEqualTo(2);
    assertThat(votes(2, UNKNOWN, UNKNOWN, 2).second()).isNaN();
    assertThat(votes(1).largest()).isNaN();
  }

  @Property
  void atLeastSoManyReachTheValueAndFewerAreBeyondIt(
      @ForAll @Size(min = 1, max = 8) List<@IntRange(min = 0, max = 5) Integer> values,
      @ForAll @IntRange(min = 1, max = 8) int needed) {
    // 5 stands for not known; the values themselves may be equal
    double[] all = values.stream().mapToDouble(v -> v == 5 ? UNKNOWN : v).toArray();
    double[] known = Arrays.stream(all).filter(v -> !Double.isNaN(v)).toArray();
    Votes votes = votes(needed, all);
    if (known.length < needed) {
      assertThat(votes.reached()).isNaN();
      assertThat(votes.under()).isNaN();
      return;
    }
    double reached = votes.reached();
    double under = votes.under();
    assertThat(Arrays.stream(known).filter(v -> v >= reached).count())
        .isGreaterThanOrEqualTo(needed);
    assertThat(Arrays.stream(known).filter(v -> v > reached).count()).isLessThan(needed);
    assertThat(Arrays.stream(known).filter(v -> v <= under).count()).isGreaterThanOrEqualTo(needed);
    assertThat(Arrays.stream(known).filter(v -> v < under).count()).isLessThan(needed);
  }
}
