package stillwatch.rules.engine;

import com.espertech.esper.common.client.EPCompiled;
import stillwatch.rules.book.RuleEntry;

/**
 * One rule, ready to deploy.
 *
 * @param entry its catalogue entry
 * @param text the text of its {@code .epl} file
 * @param compiled what the compiler made of it
 */
public record Rule(RuleEntry entry, String text, EPCompiled compiled) {}
