/** The build-up thought over beside the rules, and said in words. Start at Reviewer. */
@NullMarked
package stillwatch.rules.review;

import org.jspecify.annotations.NullMarked;
