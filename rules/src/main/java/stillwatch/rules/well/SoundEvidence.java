package stillwatch.rules.well;

import java.util.List;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * How well what the hydrophones heard goes with a leak of a size. The sound's power grows with the
 * leak's rate (M. J. Lighthill, Proc. R. Soc. Lond. A 211, 1952: a jet turns a share of its power
 * into sound that its speed decides); the powers of leak and background add up. What the facts say
 * of a leak's loudness is uncertain for all hydrophones alike. One time in fifty the facts'
 * background is wrong, for all hydrophones alike too, by vessels that never leave: so however loud
 * it is, sound proves nothing.
 */
final class SoundEvidence {
  /** Spread of a ten-minute level about what is expected of it, dB; invented. */
  private static final double SPREAD = 1.5;

  private static final double FACTS_WRONG = 0.02;

  /** Where the facts are wrong, any level in so many dB is as likely, */
  private static final double ANY_LEVEL = 60;

  /** and the hydrophones are louder than they should be alike, within about so many dB. */
  private static final double ALIKE = 5;

  /** Louder than the facts' background by so many dB is no background. */
  private static final double LOUD = 2 * SPREAD;

  private static final int PARTS = 9;
  private static final NormalDistribution NORMAL = new NormalDistribution();

  private final List<HydrophoneLevels> heard;
  private final double[][] background;

  SoundEvidence(List<HydrophoneLevels> heard) {
    this.heard = heard;
    background = new double[heard.size()][PARTS];
    for (int h = 0; h < heard.size(); h++) {
      for (int b = 0; b < PARTS; b++) {
        background[h][b] = power(heard.get(h).ear().background().quantile(part(b)));
      }
    }
  }

  private static double part(int i) {
    return (i + 0.5) / PARTS;
  }

  private static double power(double level) {
    return StrictMath.pow(10, level / 10);
  }

  /** The logarithm of how likely what was heard is without a leak into the sea. */
  double silent(double fromClock) {
    return given(new Estimate(0, 0), fromClock);
  }

  /**
   * The same with a leak.
   *
   * @param share of the flow, as far as it is known; not below nothing
   * @param fromClock since when it leaks, hours; minus infinity for always
   */
  double given(Estimate share, double fromClock) {
    double[] quietest = heard.stream().mapToDouble(h -> h.quietest(fromClock)).toArray();
    int heardNow = 0;
    for (double q : quietest) {
      heardNow += Double.isNaN(q) ? 0 : 1;
    }
    if (heardNow == 0) {
      return 0;
    }
    double sum = 0;
    int shares = share.deviation() > 0 ? PARTS : 1;
    int loudnesses = share.value() > 0 || share.deviation() > 0 ? PARTS : 1;
    for (int s = 0; s < shares; s++) {
      double f = shares == 1 ? share.value() : above(share, part(s));
      for (int k = 0; k < loudnesses; k++) {
        double all = 1;
        for (int h = 0; h < quietest.length; h++) {
          if (!Double.isNaN(quietest[h])) {
            Hydrophone ear = heard.get(h).ear();
            double leak = f <= 0 ? 0 : f / 0.01 * power(ear.onePercent().quantile(part(k)));
            all *= density(quietest[h], background[h], leak);
          }
        }
        sum += all / (shares * loudnesses);
      }
    }
    return StrictMath.log((1 - FACTS_WRONG) * sum + FACTS_WRONG * anything(quietest));
  }

  private double anything(double[] quietest) {
    double likely = 1;
    double first = Double.NaN;
    for (int h = 0; h < quietest.length; h++) {
      double above = quietest[h] - heard.get(h).ear().background().quantile(0.5);
      if (Double.isNaN(first)) {
        likely /= ANY_LEVEL;
        first = above;
      } else if (!Double.isNaN(above)) {
        likely *= normal((above - first) / ALIKE) / ALIKE;
      }
    }
    return likely;
  }

  /** Whether one of them hears more than the facts' background even at its quietest. */
  boolean loud() {
    return heard.stream()
        .anyMatch(h -> h.quietest(Double.NEGATIVE_INFINITY) > h.ear().background().high() + LOUD);
  }

  private static double normal(double z) {
    return StrictMath.exp(-z * z / 2) / Math.sqrt(2 * Math.PI);
  }

  /** A quantile of what is known of a share, given that it is not below nothing. */
  private static double above(Estimate share, double probability) {
    double none = NORMAL.cumulativeProbability(-share.value() / share.deviation());
    double p = Math.min(1 - 1e-12, none + probability * (1 - none));
    return Math.max(0, share.value() + share.deviation() * NORMAL.inverseCumulativeProbability(p));
  }

  private static double density(double level, double[] background, double leak) {
    double sum = 0;
    for (double b : background) {
      sum += normal((level - 10 * StrictMath.log10(b + leak)) / SPREAD);
    }
    return sum / (background.length * SPREAD);
  }
}
