package stillwatch.rules.plan;

/**
 * One mistake in a plan.
 *
 * @param line from 1
 * @param column from 1
 * @param message what is wrong and how to mend it
 */
public record PlanFault(int line, int column, String message) {}
