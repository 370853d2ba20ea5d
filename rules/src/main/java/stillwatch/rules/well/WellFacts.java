package stillwatch.rules.well;

import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;
import org.jspecify.annotations.Nullable;

/**
 * What is known of the well. Depths are below the sea's surface, m; pressures absolute, kPa.
 *
 * @param wellheadDepth where the shut-in pressure is read
 * @param datumDepth where the reservoir pressure is stated
 * @param reservoirPressure at the datum before the well flowed
 * @param fluid what stands in the well
 * @param sea pressure of the sea, and of a column of sea water carried on below the seabed
 * @param flow what it flowed; null when nobody says
 * @param reservoir what stores the fluid; null when nobody says: then no depletion is counted
 * @param rock what it flows through; null when nobody says: then nothing is said of time
 * @param cooling how much the cooling of the column may lower the pressure in the end
 * @param leaks where fluid may go
 * @param hydrophones what is known of those that may hear a leak into the sea
 * @param barriers what must hold
 * @param margin kept below the lowest limit
 */
public record WellFacts(
    double wellheadDepth,
    double datumDepth,
    Uncertain reservoirPressure,
    Fluid fluid,
    Sea sea,
    @Nullable Flow flow,
    @Nullable Reservoir reservoir,
    @Nullable Rock rock,
    Uncertain cooling,
    List<LeakPath> leaks,
    List<Hydrophone> hydrophones,
    List<Barrier> barriers,
    double margin) {

  /** What is allowed for where nobody says, kPa; invented, wide on purpose. */
  public static final Uncertain UNTOLD_COOLING = Uncertain.between(0, 100);

  /**
   * How fast the cooling lowers the pressure so many hours after the shut-in, kPa an hour; null
   * where nobody says anything of it.
   */
  public @Nullable Estimate coolingRate(double hours) {
    return cooling.equals(UNTOLD_COOLING) ? null : Cooling.rate(cooling, hours);
  }

  /**
   * The standing fluid when uncertain quantities are taken so.
   *
   * @param value the value to take for an uncertain quantity
   */
  public FluidColumn column(ToDoubleFunction<Uncertain> value) {
    if (fluid instanceof Liquid l) {
      return new FluidColumn.Liquid(
          value.applyAsDouble(l.density()),
          l.atPressure(),
          l.atTemperature(),
          value.applyAsDouble(l.compressibility()),
          value.applyAsDouble(l.expansion()),
          new FluidColumn.Warmth(wellheadDepth, value.applyAsDouble(l.top())),
          new FluidColumn.Warmth(datumDepth, value.applyAsDouble(l.bottom())));
    }
    return new FluidColumn.Even(value.applyAsDouble(((Gradient) fluid).kPaPerMetre()));
  }

  /** What stands in the well. */
  public sealed interface Fluid {}

  /** The sea's own pressure at the wellhead, kPa. */
  public double seaAtWellhead() {
    return sea.pressure(wellheadDepth);
  }

  /** How much the pressure of the standing fluid grows with depth near the wellhead, kPa/m. */
  public double gradient() {
    return column(Uncertain::likely)
            .pressure(wellheadDepth + 1, wellheadDepth, reservoirPressure.likely())
        - reservoirPressure.likely();
  }

  /** A constant gradient, kPa/m. */
  public record Gradient(Uncertain kPaPerMetre) implements Fluid {}

  /**
   * A liquid with compressibility and thermal expansion; see {@link FluidColumn.Liquid}.
   *
   * @param top temperature at the wellhead, °C
   * @param bottom temperature at the datum, °C
   */
  public record Liquid(
      Uncertain density,
      double atPressure,
      double atTemperature,
      Uncertain compressibility,
      Uncertain expansion,
      Uncertain top,
      Uncertain bottom)
      implements Fluid {}

  /** The sea: a gradient, kPa/m, or where that is null, its water by latitude, degrees. */
  public record Sea(@Nullable Double gradient, double latitude) {
    private static final double AIR = 101.325;

    /** Absolute pressure at a depth, kPa. */
    public double pressure(double depth) {
      return AIR + (gradient == null ? SeaWater.pressure(depth, latitude) : gradient * depth);
    }
  }

  /**
   * What it flowed before the closing.
   *
   * @param rate m³/d at surface conditions
   * @param hours for how long
   * @param volumeFactor volume in the reservoir over volume at surface
   */
  public record Flow(Uncertain rate, double hours, Uncertain volumeFactor) {}

  /**
   * What stores the fluid.
   *
   * @param volume of pores connected to the well, m³
   * @param compressibility of rock and fluids together, 1/kPa
   */
  public record Reservoir(Uncertain volume, Uncertain compressibility) {}

  /**
   * What the fluid flows through.
   *
   * @param thickness permeability times thickness, µm²·m
   * @param viscosity mPa·s
   * @param contact how it meets the well; null when nobody says: then nothing is said of skin
   */
  public record Rock(Uncertain thickness, Uncertain viscosity, @Nullable Contact contact) {}

  /**
   * How rock meets the well.
   *
   * @param height of the rock that flows, m
   * @param porosity share of its volume that is pores
   * @param radius of the well in it, m
   */
  public record Contact(Uncertain height, Uncertain porosity, double radius) {}

  /**
   * A place where fluid may go into the rock.
   *
   * @param takes the pressure there at which the rock takes fluid: between pore and fracture
   *     pressure
   * @param closesAgain whether it would close again once the pressure is taken off
   * @param lostByWaiting what is lost by waiting while it leaks, for people; empty where nobody
   *     says
   */
  public record LeakPath(
      String name, double depth, Uncertain takes, ClosesAgain closesAgain, String lostByWaiting) {
    /** Of which nothing more is known. */
    public LeakPath(String name, double depth, Uncertain takes) {
      this(name, depth, takes, ClosesAgain.UNKNOWN, "");
    }
  }

  /** Whether a leak would close again once the pressure is taken off. */
  public enum ClosesAgain {
    /** It would. */
    YES,
    /** It would not: what it takes is lost for good. */
    NO,
    /** Nobody knows. */
    UNKNOWN;

    /** As a plan says it. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /**
   * What must hold.
   *
   * @param rating the pressure difference it bears
   * @param outside the pressure outside; null for a column of sea water down to it
   */
  public record Barrier(String name, double depth, Uncertain rating, @Nullable Uncertain outside) {}
}
