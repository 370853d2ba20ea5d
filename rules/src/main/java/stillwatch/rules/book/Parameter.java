package stillwatch.rules.book;

import stillwatch.ingest.unit.Dimension;

/**
 * A limit or delay of a rule that a plan may set.
 *
 * @param name the name in plans and in the rule's EPL
 * @param dimension what it is, and so its unit
 * @param standard the value where the plan says nothing, in the dimension's base unit
 * @param about one sentence: what it does, what a larger value costs
 */
public record Parameter(String name, Dimension dimension, double standard, String about) {}
