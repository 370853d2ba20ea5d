package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

/** One of two gauges falls slowly in a well that only the tide moves: by itself, or with it. */
class SlowFallOfOneTest {
  private static final int HOUR = 3600;

  /** Of the M2 constituent, 28.9841042 degrees an hour (NOAA), kPa. */
  private static double tide(double hours) {
    return 6 * Math.cos(Math.toRadians(28.9841042 * hours));
  }

  @Test
  void aDriftBesideAGaugeThatFeelsTheTideStaysLow() {
    try (WellDriver well = new WellDriver()) {
      well.run(3 * HOUR, s -> 47_000 + tide(s / 3600.0))
          .run(
              9 * HOUR,
              s -> 47_000 + tide(3 + s / 3600.0),
              s -> 46_994 + tide(3 + s / 3600.0) - 16 * s / 3600.0);
      assertThat(well.first("one-gauge-sees").subject()).isEqualTo("PT-2");
      assertThat(well.findings())
          .filteredOn(f -> f.rule().equals("one-gauge-sees") || f.rule().equals("loss-unexplained"))
          .allMatch(f -> f.priority() == Priority.LOW);
      assertThat(well.last("one-gauge-sees").summary())
          .contains("PT-1 has lately followed the well");
    }
  }

  @Test
  void theSameFallBesideAGaugeThatNoLongerFeelsTheTideIsHigh() {
    try (WellDriver well = new WellDriver()) {
      well.run(3 * HOUR, s -> 47_000 + tide(s / 3600.0))
          .run(
              9 * HOUR,
              s -> 47_000 + tide(3),
              s -> 46_994 + tide(3 + s / 3600.0) - 16 * s / 3600.0);
      assertThat(well.findings())
          .anyMatch(f -> f.rule().equals("one-gauge-sees") && f.priority() == Priority.HIGH);
    }
  }
}
