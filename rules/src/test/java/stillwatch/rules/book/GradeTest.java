package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** Priority follows from consequence and time to respond, whoever writes the rule. */
class GradeTest {
  private static RuleEntry entry(String how) {
    String yaml =
        """
        - id: warm
          title: Warm
          %s
          about: well
          parameters: []
          sentence: It is warm.
          returned: It is not.
          cause: Heat.
          consequence: They erode.
          response: Call.
          fooled-by: A current.
        """
            .formatted(how);
    return Catalogue.read(
            new ByteArrayInputStream(yaml.getBytes(StandardCharsets.UTF_8)), "rules.yaml")
        .rules()
        .get(0);
  }

  @Test
  void theGraverAndTheSoonerTheMoreUrgent() {
    for (Grade worse : Grade.values()) {
      for (Grade milder : Grade.values()) {
        for (double s : new double[] {60, 300, 301, 1800, 1801, 86_400}) {
          if (worse.compareTo(milder) <= 0) {
            assertThat(worse.within(s)).isGreaterThanOrEqualTo(milder.within(s));
          }
          assertThat(worse.within(s)).isGreaterThanOrEqualTo(worse.within(2 * s));
        }
      }
    }
  }

  @Test
  void aRulesPriorityComesFromItsGrade() {
    assertThat(entry("grade: grave\n  respond-within: 10 min").priority()).isEqualTo(Priority.HIGH);
    assertThat(entry("grade: none\n  respond-within: no action").priority())
        .isEqualTo(Priority.INFORMATION);
    assertThat(entry("priority: low\n  respond-within: 10 min").priority()).isEqualTo(Priority.LOW);
  }

  @Test
  void aPriorityThatContradictsItIsRefused() {
    assertThatThrownBy(
            () -> entry("grade: slight\n  priority: high\n  respond-within: 10 min").priority())
        .isInstanceOf(CatalogueException.class)
        .hasMessage(
            "rules.yaml: rule warm: grade slight and 10 min make the priority low; leave out 'priority', or 'grade'");
    assertThatThrownBy(() -> entry("grade: grave\n  respond-within: soon").priority())
        .isInstanceOf(CatalogueException.class)
        .hasMessageContaining("rules.yaml: rule warm, respond-within");
  }
}
