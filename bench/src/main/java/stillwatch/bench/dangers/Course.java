package stillwatch.bench.dangers;

import java.util.List;
import java.util.SplittableRandom;

/**
 * A quantity over time in closed form: seconds since the log's start to kPa (or dB, °C, degrees).
 */
@FunctionalInterface
interface Course {
  double HOUR = 3600;

  /**
   * Periods of the four largest tides in hours, M2, S2, K1, O1, and their heights in shares of the
   * first (equilibrium tide; Doodson and Warburg, Admiralty Manual of Tides, 1941; from memory).
   */
  List<Double> TIDE_HOURS = List.of(12.4206012, 12.0, 23.9344697, 25.8193417);

  List<Double> TIDE_SHARES = List.of(1.0, 0.465, 0.584, 0.415);

  /** The value so many seconds after the start. */
  double at(double s);

  /** This and another on top. */
  default Course plus(Course other) {
    return s -> at(s) + other.at(s);
  }

  /** So many times this. */
  default Course times(double factor) {
    return s -> factor * at(s);
  }

  /** This, standing still from one instant to another and then where it would be. */
  default Course heldFrom(double fromS, double toS) {
    return s -> at(s >= fromS && s < toS ? fromS : s);
  }

  /** Always the same. */
  static Course flat(double value) {
    return s -> value;
  }

  /** Nothing, then a straight line over so many seconds to an amount that stays; 0 s is a step. */
  static Course ramp(double fromS, double lastsS, double amount) {
    return s -> s < fromS ? 0 : s >= fromS + lastsS ? amount : amount * (s - fromS) / lastsS;
  }

  /** Nothing, then a straight line without end. */
  static Course slope(double fromS, double perHour) {
    return s -> s < fromS ? 0 : perHour * (s - fromS) / HOUR;
  }

  /** Nothing, then an approach to an amount with a time constant. */
  static Course settling(double fromS, double constantS, double amount) {
    return s -> s < fromS ? 0 : -amount * Math.expm1(-(s - fromS) / constantS);
  }

  /** Up to an amount, held there, and back, on straight lines. */
  static Course hump(double fromS, double upS, double heldS, double backS, double amount) {
    return ramp(fromS, upS, amount).plus(ramp(fromS + upS + heldS, backS, -amount));
  }

  /** A sine. */
  static Course sine(double amplitude, double periodS, double phase) {
    return s -> amplitude * Math.sin(2 * Math.PI * (s / periodS + phase));
  }

  /** Four tides together, the largest with this amplitude; the phase shifts them all. */
  static Course tide(double amplitude, double phase) {
    Course sum = flat(0);
    for (int i = 0; i < TIDE_HOURS.size(); i++) {
      sum =
          sum.plus(sine(amplitude * TIDE_SHARES.get(i), TIDE_HOURS.get(i) * HOUR, phase * (i + 1)));
    }
    return sum;
  }

  /** A swell of about ten seconds: three sines near it, so that no period of reading hides it. */
  static Course swell(double amplitude, SplittableRandom random) {
    return sine(amplitude * 0.5, 9.1, random.nextDouble())
        .plus(sine(amplitude * 0.3, 10.3, random.nextDouble()))
        .plus(sine(amplitude * 0.2, 11.7, random.nextDouble()));
  }

  /**
   * The pressure of a well closed in steps after a long flow, by superposed logarithms of time
   * (superposition of rates in radial flow, as in any textbook of well testing: R. N. Horner, 3rd
   * World Petroleum Congress, 1951), with a fall at the choke that goes with the square of the
   * rate, each step filling the well with a time constant of 20 s.
   *
   * @param finalKPa where it leads in infinite time
   * @param perCycle kPa a decade of time
   * @param steps what was closed when
   */
  static Course buildUp(double finalKPa, double perCycle, List<Step> steps) {
    return s -> {
      double pressure = finalKPa - perCycle * logTime(s + 1440 * HOUR) - Step.CHOKE_KPA;
      double rate = 1;
      for (Step step : steps) {
        double since = s - step.atS();
        if (since > 0) {
          double filled = -Math.expm1(-since / 20);
          pressure += perCycle * (rate - step.rate()) * logTime(since * filled);
          pressure += Step.choke(rate, step.rate()) * filled;
        }
        rate = step.rate();
      }
      return pressure;
    };
  }

  /** The pressure of a well that stands at once where it will stay, but for the choke's steps. */
  static Course plateau(double levelKPa, List<Step> steps) {
    Course sum = flat(levelKPa - Step.CHOKE_KPA);
    double rate = 1;
    for (Step step : steps) {
      sum = sum.plus(settling(step.atS(), 20, Step.choke(rate, step.rate())));
      rate = step.rate();
    }
    return sum;
  }

  private static double logTime(double s) {
    return Math.log10(1 + s / 0.018);
  }
}
