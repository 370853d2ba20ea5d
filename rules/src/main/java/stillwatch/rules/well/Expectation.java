package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;

/**
 * What the facts say beforehand to the explanations of a build-up.
 *
 * @param level the pressure an intact well leads to, kPa
 * @param undepleted the same, had nothing flowed out of the reservoir
 * @param slope per log10 cycle at the full rate, kPa
 * @param cooling how much the cooling of the column may lower the pressure in the end, kPa
 * @param sea the sea's pressure at the wellhead, kPa
 * @param takes the wellhead pressures at which the rock of each possible leak takes fluid
 */
public record Expectation(
    Estimate level,
    Estimate undepleted,
    Estimate slope,
    Uncertain cooling,
    double sea,
    List<Estimate> takes) {
  /** P90 less P10 of a normal distribution, in deviations. */
  private static final double TENTHS = 2.5631;

  /** Where nobody says anything of the rock, any slope a well may have, kPa. */
  private static final Estimate ANY_SLOPE = new Estimate(500, 1000);

  /** What the facts say. */
  public static Expectation of(WellFacts facts) {
    ExpectedPressures e = ExpectedPressures.of(facts);
    Estimate level = estimate(e.intact());
    Estimate depletion = estimate(e.depletion());
    List<Estimate> takes = new ArrayList<>();
    for (ExpectedPressures.Named leak : e.leaks()) {
      takes.add(estimate(leak.pressure()));
    }
    return new Expectation(
        level,
        new Estimate(level.value() + depletion.value(), level.deviation()),
        slope(facts),
        facts.cooling(),
        facts.sea().pressure(facts.wellheadDepth()),
        List.copyOf(takes));
  }

  private static Estimate slope(WellFacts facts) {
    WellFacts.Flow flow = facts.flow();
    WellFacts.Rock rock = facts.rock();
    if (flow == null || rock == null) {
      return ANY_SLOPE;
    }
    double rate = flow.rate().quantile(0.5) * flow.volumeFactor().quantile(0.5);
    double low =
        ExpectedPressures.slopePerCycle(
            rate, rock.viscosity().quantile(0.1), rock.thickness().quantile(0.9));
    double high =
        ExpectedPressures.slopePerCycle(
            rate, rock.viscosity().quantile(0.9), rock.thickness().quantile(0.1));
    return new Estimate((low + high) / 2, Math.max(0.05 * high, (high - low) / TENTHS));
  }

  private static Estimate estimate(Percentiles p) {
    return new Estimate(p.p50(), (p.p90() - p.p10()) / TENTHS);
  }
}
