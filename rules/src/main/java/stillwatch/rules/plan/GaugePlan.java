package stillwatch.rules.plan;

import java.time.Duration;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Kind;

/**
 * One gauge of the plan. Values are in the base unit of its kind.
 *
 * @param id short and unique, for example {@code PT-1}
 * @param kind what it measures
 * @param where where it sits, for people
 * @param unit the UCUM code its live source speaks
 * @param period how often it should speak
 * @param low below this a reading is outside physics and no reading
 * @param high above this a reading is outside physics and no reading
 * @param accuracy how far two good gauges may stand from the truth
 * @param resolution its smallest step; 0 when not known
 * @param twin the group of gauges that should agree with it; null when it stands alone
 * @param role what it senses
 * @param depthM how deep it sits below the sea's surface, m; NaN when the plan does not say
 */
public record GaugePlan(
    String id,
    Kind kind,
    String where,
    String unit,
    Duration period,
    double low,
    double high,
    double accuracy,
    double resolution,
    @Nullable String twin,
    Role role,
    double depthM) {

  /** Whether it measures the shut-in pressure that the bands and the ceiling are about. */
  public boolean ofShutIn() {
    return role == Role.SHUT_IN && kind == Kind.PRESSURE;
  }

  /** What a gauge senses. */
  public enum Role {
    /** The shut-in pressure that the bands and the ceiling are about. */
    SHUT_IN,
    /** The sea outside. */
    AMBIENT,
    /** The warmth above a closed barrier. */
    BARRIER,
    /** Anything else. */
    OTHER;

    private final String wire = name().toLowerCase(Locale.ROOT).replace('_', '-');

    /** The name in plans and rules, for example {@code shut-in}. */
    public String wire() {
      return wire;
    }
  }
}
