package stillwatch.rules.capacity;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What is so in the long run, every state of the units weighed by its share of time. Outages are
 * independent, so a state's share is the product of its units' (state enumeration, as in IEC 61078
 * on reliability block diagrams, from memory); weather is common to the units that leave for it.
 *
 * @param holds the mean share of time that the capacity is at least the flow, over the draws
 * @param spillM3PerD what is not collected on average, m³/d
 */
public record LongRun(Mean holds, Mean spillM3PerD) {
  /** A share of time in which weather lets these units collect. */
  private record Spell(double share, int there) {}

  static LongRun of(Reopening reopening, List<Drawn> draws) {
    double[] shares = shares(reopening);
    double[] holds = new double[draws.size()];
    double[] spill = new double[draws.size()];
    for (int d = 0; d < draws.size(); d++) {
      Drawn drawn = draws.get(d);
      for (int up = 0; up < shares.length; up++) {
        if (drawn.holds(up)) {
          holds[d] += shares[up];
        } else {
          spill[d] += shares[up] * drawn.spill(up);
        }
      }
    }
    return new LongRun(Mean.of(holds), Mean.of(spill));
  }

  /** The share of time that exactly the units of these bits collect, by bits. */
  static double[] shares(Reopening reopening) {
    double[] shares = new double[1 << reopening.units().size()];
    for (Spell spell : spells(reopening)) {
      for (int up = 0; up < shares.length; up++) {
        if ((up & ~spell.there()) == 0) {
          shares[up] += spell.share() * independent(reopening, up, spell.there());
        }
      }
    }
    return shares;
  }

  /** How often of these units exactly those are up. */
  private static double independent(Reopening reopening, int up, int of) {
    double share = 1;
    for (int i = 0; i < reopening.units().size(); i++) {
      double availability = reopening.units().get(i).availability();
      if ((of & 1 << i) != 0) {
        share *= (up & 1 << i) != 0 ? availability : 1 - availability;
      }
    }
    return share;
  }

  /**
   * The spells of weather and after it. Storms last L on average and E passes on average, without
   * memory, from the end of one to the start of the next: the share of storm is L / (E + L), and a
   * moment of calm is older than r with probability exp(-r / E), its age having the distribution of
   * its length (renewal theory, from memory).
   */
  private static List<Spell> spells(Reopening reopening) {
    Optional<Reopening.Weather> weather = reopening.weather();
    if (weather.isEmpty()) {
      return List.of(new Spell(1, reopening.everyUnit()));
    }
    double every = weather.get().everyDays();
    double calm = every / (every + weather.get().lastsDays());
    List<Double> returns =
        reopening.units().stream()
            .flatMap(u -> u.backAfterWeather().stream())
            .map(Reopening::days)
            .distinct()
            .sorted()
            .toList();
    List<Spell> spells = new ArrayList<>();
    spells.add(new Spell(1 - calm, reopening.staying()));
    double older = 1;
    int there = reopening.staying();
    for (double r : returns) {
      double then = StrictMath.exp(-r / every);
      spells.add(new Spell(calm * (older - then), there));
      older = then;
      there |= backBy(reopening, r);
    }
    spells.add(new Spell(calm * older, there));
    return spells;
  }

  private static int backBy(Reopening reopening, double days) {
    int back = 0;
    for (int i = 0; i < reopening.units().size(); i++) {
      Optional<Duration> after = reopening.units().get(i).backAfterWeather();
      back |= after.isPresent() && Reopening.days(after.get()) <= days ? 1 << i : 0;
    }
    return back;
  }
}
