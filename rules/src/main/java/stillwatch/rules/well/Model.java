package stillwatch.rules.well;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One model of an explanation, linear in what is unknown.
 *
 * @param boundary hours at which it is felt; infinite for none
 * @param skin what a leak's own flow takes, in cycles
 * @param leak what leaks; null when nothing does
 * @param before the logarithm of how likely it is beforehand among those of its family
 * @param priors of its coefficients, in the order of {@link ModelRows}
 */
record Model(
    Explanation explanation,
    double boundary,
    double skin,
    @Nullable Leak leak,
    double before,
    List<LinearFit.Prior> priors) {
  /** The hours of a boundary that is never felt. */
  static final double NEVER = Double.POSITIVE_INFINITY;

  /** Whether something leaks that did not always leak. */
  boolean late() {
    return leak != null && !leak.always();
  }
}
