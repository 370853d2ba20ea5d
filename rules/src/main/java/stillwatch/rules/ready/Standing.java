package stillwatch.rules.ready;

import stillwatch.rules.plan.Condition;

/**
 * How a condition stands.
 *
 * @param met whether it is so
 * @param why what shows that it is, or what is missing; a part of a sentence
 */
public record Standing(Condition condition, boolean met, String why) {}
