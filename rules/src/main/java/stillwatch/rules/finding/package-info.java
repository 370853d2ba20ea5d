/** What a rule found: a fact with an identity, and its form on the alerts topic. */
@NullMarked
package stillwatch.rules.finding;

import org.jspecify.annotations.NullMarked;
