package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Map;
import org.junit.jupiter.api.Test;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.RuleSetting;

/** A rule's revision is part of what an alarm is: only what decides may change it. */
class RuleGatesTest {
  private static final Rule RULE =
      RuleBook.shipped().rules().stream()
          .filter(r -> r.entry().id().equals("sudden-drop"))
          .findFirst()
          .orElseThrow();

  private static String revision(RuleEntry entry, Map<String, Double> limits) {
    return new RuleGates(
            new Rule(entry, RULE.text(), RULE.compiled()), new RuleSetting(limits, null, null))
        .revision;
  }

  @Test
  void anotherWordingIsNoOtherRevisionAndAnotherLimitIs() {
    RuleEntry e = RULE.entry();
    RuleEntry reworded =
        new RuleEntry(
            e.id(),
            "Pressure drops",
            e.priority(),
            e.meaning(),
            e.parameters(),
            "Other words.",
            "Other words again.",
            e.cause(),
            e.consequence(),
            e.response(),
            e.respondWithin(),
            e.fooledBy(),
            e.readings(),
            e.sees(),
            e.excused());
    String standard = revision(e, Map.of());
    assertThat(revision(reworded, Map.of())).isEqualTo(standard);
    assertThat(revision(e, Map.of("fall", 40.0))).isNotEqualTo(standard);
  }
}
