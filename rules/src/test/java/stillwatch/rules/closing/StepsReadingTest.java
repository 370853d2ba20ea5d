package stillwatch.rules.closing;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.rules.plan.ClosingStep;
import stillwatch.rules.well.Thickness;
import stillwatch.rules.well.Uncertain;
import stillwatch.rules.well.WellFacts;

/**
 * Closings of simulated wells: the logarithmic approximation of the line source superposed over the
 * steps (R. C. Earlougher, Advances in Well Test Analysis, SPE Monograph 5, 1977, ch. 2), what the
 * outlets lose with the square of the rate, and the filling of the well as an exponential. Nothing
 * of it is the product's own code.
 */
class StepsReadingTest {
  private static final double[] LEAVES = {0.8, 0.6, 0.42, 0.25, 0.1, 0};
  private static final long STEP_S = 18 * 60;
  private static final Uncertain RATE = Uncertain.between(7200, 8400);
  private static final double FACTOR = 1.4;
  private static final double VISCOSITY = 0.6;

  /** A well as it is, with what nobody knows of it. */
  private record Truth(
      double thickness,
      double rate,
      double fillS,
      double noise,
      double resolution,
      boolean wrong) {}

  private static WellFacts facts(Uncertain rate) {
    return new WellFacts(
        1410,
        4350,
        Uncertain.known(74_700),
        new WellFacts.Gradient(Uncertain.known(8.1)),
        new WellFacts.Sea(10.07, 0),
        new WellFacts.Flow(rate, 1440, Uncertain.known(FACTOR)),
        null,
        new WellFacts.Rock(Uncertain.triangle(15, 20, 28), Uncertain.known(VISCOSITY), null),
        Uncertain.known(0),
        List.of(),
        List.of(),
        List.of(),
        0);
  }

  private static List<StepTaken> steps(int many) {
    List<StepTaken> steps = new ArrayList<>();
    for (int i = 0; i < many; i++) {
      ClosingStep planned =
          new ClosingStep("turn " + i, "choke", LEAVES[i], Duration.ZERO, Optional.empty());
      steps.add(
          new StepTaken(
              planned.name(),
              Optional.of(planned),
              i * STEP_S * 1000,
              false,
              Map.of(),
              Map.of(),
              Answer.NOT_ASKED,
              List.of()));
    }
    return steps;
  }

  private static StepsReading read(Truth well, Random random, int many) {
    return read(well, random, many, steps(many));
  }

  private static StepsReading read(Truth well, Random random, int many, List<StepTaken> logged) {
    double perE = // kPa per unit of ln t at the first rate: q B mu / (4 pi kh)
        well.rate()
            / 86_400
            * FACTOR
            * VISCOSITY
            * 1e-3
            / (4 * Math.PI * well.thickness() * 1e-12)
            / 1000;
    double[] leaves = LEAVES.clone();
    for (int i = 0; well.wrong() && i < 5; i++) {
      leaves[i] += 0.01 * random.nextGaussian();
    }
    StepCourse course = new StepCourse(1000);
    double filled = Double.NaN;
    for (int s = 1; s < many * STEP_S; s++) {
      double p = 47_000 - perE * Math.log(1440 * 3600.0 + s);
      double before = 1;
      for (int i = 0; i < many && i * STEP_S < s; i++) {
        p += perE * (before - leaves[i]) * (Math.log((double) (s - i * STEP_S)) + 7);
        before = leaves[i];
      }
      p -= 20_000 * before * before;
      filled = Double.isNaN(filled) ? p : filled + (p - filled) * (1 - Math.exp(-1 / well.fillS()));
      double shown = filled + well.noise() * random.nextGaussian();
      course.add(s * 1000L, Math.rint(shown / well.resolution()) * well.resolution());
    }
    return StepsReading.of("PT-1", Optional.of(List.of()), logged, course.medians(), facts(RATE));
  }

  /**
   * The interval must hold the truth in 85 to 95 of a hundred wells; with fewer wells the bounds
   * are wider by what a binomial count of nine in ten may be off.
   */
  @Test
  void theTrueThicknessLiesWithinItsOwnInterval() {
    int wells = Integer.getInteger("stillwatch.closings", 60);
    Random random = new Random(20_260_302);
    int within = 0;
    List<String> missed = new ArrayList<>();
    for (int i = 0; i < wells; i++) {
      Truth well = well(random);
      StepsReading read = read(well, random, 6);
      boolean holds =
          read.thickness()
              .filter(t -> t.low() <= well.thickness() && t.high() >= well.thickness())
              .isPresent();
      within += holds ? 1 : 0;
      if (!holds) {
        missed.add(well + ": " + read.text());
      }
    }
    double off = wells >= 300 ? 0.05 * wells : 2.6 * Math.sqrt(0.09 * wells);
    assertThat((double) within)
        .as("of %d; missed: %s", wells, String.join("\n", missed))
        .isBetween(0.9 * wells - off, 0.9 * wells + off);
  }

  private static Truth well(Random random) {
    return new Truth(
        15 + 13 * random.nextDouble(),
        7200 + 1200 * random.nextDouble(),
        8 + 32 * random.nextDouble(),
        Math.pow(10, -1.3 + 1.5 * random.nextDouble()),
        random.nextBoolean() ? 0.01 : 0.1,
        true);
  }

  private static Truth exact(double fillS) {
    return new Truth(20, 7800, fillS, 0.05, 0.01, false);
  }

  @Test
  void theSentenceTellsTheIntervalAndWhatTheFactsSay() {
    StepsReading read = read(exact(20), new Random(1), 6);
    Thickness t = read.thickness().orElseThrow();
    assertThat(t.likely()).isBetween(19.4, 20.6);
    assertThat(t.high() / t.low())
        .as("as far apart as 7200 and 8400, little more")
        .isBetween(1.13, 1.3);
    assertThat(read.text())
        .startsWith("PT-1: the closing steps give a permeability-thickness of ")
        .contains("from 6 steps")
        .endsWith("the facts say 16.8 to 25.7 (90 %): the two ranges overlap.");
  }

  @Test
  void theEarlierStepsAloneTellIt() {
    StepsReading read = read(exact(20), new Random(1), 3);
    assertThat(read.thickness().orElseThrow().low()).isLessThan(20);
    assertThat(read.thickness().orElseThrow().high()).isGreaterThan(20);
  }

  /** As in Towler's Example 7.4, a line through the filling of the well must not be drawn. */
  @ParameterizedTest
  @ValueSource(doubles = {300, 600, 1200, 3600})
  void nothingIsToldWhileTheWellFills(double fillS) {
    StepsReading read = read(exact(fillS), new Random(1), 6);
    assertThat(read.thickness()).as(read.text()).isEmpty();
    assertThat(read.text()).contains("wellbore storage");
  }

  /** A step logged once more after the shut-in lets nothing flow; one out of order is not known. */
  @Test
  void whatWasLoggedTwiceIsNotReadAsFlow() {
    List<StepTaken> again = new ArrayList<>(steps(6));
    again.addAll(steps(2));
    StepsReading once = read(exact(20), new Random(1), 6);
    assertThat(read(exact(20), new Random(1), 6, again)).isEqualTo(once);
    List<StepTaken> twice = new ArrayList<>(steps(2));
    twice.addAll(steps(2));
    assertThat(read(exact(20), new Random(1), 6, twice).text()).contains("is not known");
  }

  @Test
  void itSaysWhatIsLacking() {
    assertThat(StepsReading.of("PT-1", Optional.of(List.of()), steps(3), List.of(), null).text())
        .isEqualTo(
            "PT-1: the closing steps do not tell the permeability-thickness. The facts of the plan"
                + " state no flow or no rock.");
    assertThat(read(exact(20), new Random(1), 1).text()).contains("too few");
    assertThat(StepsReading.of("PT-1", Optional.empty(), steps(3), List.of(), facts(RATE)).text())
        .endsWith("What flowed since the closing before is not known.");
    assertThat(
            StepsReading.of("PT-1", Optional.of(List.of()), steps(3), List.of(), facts(RATE))
                .text())
        .contains("too few readings");
  }
}
