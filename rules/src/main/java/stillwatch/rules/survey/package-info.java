/**
 * What passes over the seabed saw, compared with what was seen before the closing. Start at {@link
 * stillwatch.rules.survey.Surveys}.
 */
@NullMarked
package stillwatch.rules.survey;

import org.jspecify.annotations.NullMarked;
