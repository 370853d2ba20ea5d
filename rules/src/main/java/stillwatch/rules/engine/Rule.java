package stillwatch.rules.engine;

import com.espertech.esper.common.client.EPCompiled;
import java.util.regex.Pattern;
import stillwatch.rules.book.RuleEntry;

/**
 * One rule, ready to deploy.
 *
 * @param entry its catalogue entry
 * @param text the text of its {@code .epl} file
 * @param compiled what the compiler made of it
 */
public record Rule(RuleEntry entry, String text, EPCompiled compiled) {
  private static final Pattern OF_GAUGES =
      Pattern.compile("\\bfrom\\s+(GaugeIndicator|PairIndicator|GaugesIndicator)\\b");

  /** Whether it looks at gauges or pairs, before the rules about the well have their turn. */
  public boolean ofGauges() {
    return OF_GAUGES.matcher(text).find();
  }
}
