/**
 * The account of the well's changes: what a sense reported and nothing forecast stays open until it
 * comes back or is explained. Start at {@link stillwatch.rules.account.Account}. Knows levels,
 * times and names; no plan, rule or engine.
 */
@NullMarked
package stillwatch.rules.account;

import org.jspecify.annotations.NullMarked;
