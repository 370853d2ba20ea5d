package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Average run lengths against published tables: Monte Carlo with a fixed seed, the tolerance four
 * standard errors of the mean and half a unit of the last printed digit.
 */
class CusumTest {
  private record Run(double mean, double error) {}

  private static Run averageRunLength(double k, double h, double shift, double drift, int runs) {
    Random random = new Random(17);
    double sum = 0;
    double squares = 0;
    for (int r = 0; r < runs; r++) {
      Cusum cusum = new Cusum(k);
      int n = 0;
      do {
        n++;
      } while (cusum.accept(n, random.nextGaussian() + shift + drift * (n - 1)) <= h);
      sum += n;
      squares += (double) n * n;
    }
    double mean = sum / runs;
    return new Run(mean, Math.sqrt((squares / runs - mean * mean) / runs));
  }

  /**
   * One-sided, k 0.5: h 4 and 5 in control 335.37 and 930.89, h 5 at shift 1 10.376 (J. M. Lucas
   * and R. B. Crosier, Technometrics 24, 1982, 199-205, Table 1, one side); h 3 in control 117.6,
   * at 0.5 17.35 (K.-H. Waldmann, Technometrics 28, 1986, 61-67), at 1.5 3.75 (D. Brook and D. A.
   * Evans, Biometrika 59, 1972, 539-548).
   */
  @ParameterizedTest
  @CsvSource({
    "0.5, 4, 0, 335.37, 4000",
    "0.5, 5, 0, 930.89, 2000",
    "0.5, 5, 1, 10.376, 20000",
    "0.5, 3, 0, 117.6, 10000",
    "0.5, 3, 0.5, 17.35, 20000",
    "0.5, 3, 1.5, 3.75, 50000",
    "0.25, 8, 2.5, 4.1501, 50000"
  })
  void runLengthsAfterAShiftAreThosePublished(
      double k, double h, double shift, double published, int runs) {
    Run run = averageRunLength(k, h, shift, 0, runs);
    assertThat(run.mean()).isCloseTo(published, within(4 * run.error() + 0.005));
  }

  /** Two sides: 1/ARL = 1/ARL+ + 1/ARL-; 168 for h 4 and 465 for h 5 (Lucas and Crosier 1982). */
  @ParameterizedTest
  @CsvSource({"4, 168, 4000", "5, 465, 2000"})
  void twoSidesTogetherRunAsLongAsPublished(double h, double published, int runs) {
    Run run = averageRunLength(0.5, h, 0, 0, runs);
    assertThat(run.mean() / 2).isCloseTo(published, within(2 * run.error() + 0.5));
  }

  /** A leak that grows: k 0.25, h 8 (F. F. Gan, J. Stat. Comput. Simul., 1992, Table 1). */
  @ParameterizedTest
  @CsvSource({"0.01, 52.0", "0.1, 15.0", "0.5, 6.95", "1.0, 5.16"})
  void runLengthsUnderADriftAreThosePublished(double drift, double published) {
    Run run = averageRunLength(0.25, 8, 0, drift, 20_000);
    assertThat(run.mean()).isCloseTo(published, within(0.02 * published));
  }

  /**
   * No rule with the same mean time between false alarms can be quicker in its worst case than the
   * matched sum (Moustakides 1986); its floor is (ln(γI) − 1)/I with I = δ²/2 (G. Lorden, Ann.
   * Math. Stat. 42, 1971, 1897-1908). For δ = 1 and γ = 1000 that is 10.43 against 10.52 samples.
   */
  @Test
  void theDelayLiesJustAboveTheTheoreticalFloor() {
    double information = 0.5;
    double floor = (Math.log(1000 * information) - 1) / information;
    Run inControl = averageRunLength(0.5, 5.0707, 0, 0, 4000);
    Run delay = averageRunLength(0.5, 5.0707, 1, 0, 50_000);
    assertThat(inControl.mean()).isCloseTo(1000, within(4 * inControl.error()));
    assertThat(delay.mean()).isBetween(floor, floor + 0.2).isCloseTo(10.517, within(0.06));
  }

  @Test
  void itTellsWhenThePresentExcursionBegan() {
    Cusum cusum = new Cusum(1);
    cusum.accept(10, 0);
    cusum.accept(20, 3);
    cusum.accept(30, 3);
    assertThat(cusum.sinceMs()).isEqualTo(20);
    assertThat(cusum.value()).isEqualTo(4);
  }
}
