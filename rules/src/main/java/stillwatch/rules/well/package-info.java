/**
 * The shut-in well as a computation: the expected pressures, the analysis of the build-up, and what
 * may explain it. Pure functions of numbers; knows nothing of rules, engines or topics. Pressures
 * are kPa, times hours, rates m³/d, lengths m unless a name says otherwise. Formulas and their
 * sources: docs/well-model.md.
 */
@NullMarked
package stillwatch.rules.well;

import org.jspecify.annotations.NullMarked;
