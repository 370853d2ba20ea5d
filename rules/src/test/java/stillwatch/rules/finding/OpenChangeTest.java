package stillwatch.rules.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.book.RuleMeaning;

/** What is still open, from the findings that last. */
class OpenChangeTest {
  private static Finding finding(
      String id, @Nullable String change, Priority priority, long onsetMs, long raisedMs) {
    return finding(id, "PT", change, priority, onsetMs, raisedMs);
  }

  private static Finding finding(
      String id,
      String subject,
      @Nullable String change,
      Priority priority,
      long onsetMs,
      long raisedMs) {
    return new Finding(
        id,
        "own",
        RuleMeaning.on(RuleEntry.About.WELL),
        subject,
        change,
        "0",
        "Own",
        priority,
        "w",
        List.of("PT-1"),
        onsetMs,
        raisedMs,
        null,
        id + ": 1.549 MPa lost. It is so.",
        Map.of(),
        new Evidence(Map.of(), List.of()),
        "watching",
        "Call.",
        "A3 0",
        "0");
  }

  @Test
  void eachChangeIsSaidOnceByTheMostUrgentOfItsFindingsOldestFirst() {
    List<OpenChange> open =
        OpenChange.in(
            List.of(
                finding("a", "late", Priority.HIGH, 9_000, 9_500),
                finding("b", null, Priority.HIGH, 100, 200),
                finding("c", "early", Priority.MEDIUM, 1_000, 8_000),
                finding("d", "early", Priority.HIGH, 2_000, 3_000),
                finding("e", "early", Priority.HIGH, 2_500, 4_000)));
    assertThat(open).extracting(OpenChange::id).containsExactly("early", "late");
    assertThat(open.get(0).onsetMs()).isEqualTo(1_000);
    assertThat(open.get(0).voice().id()).isEqualTo("e");
    assertThat(open.get(0).inShort()).isEqualTo("e: 1.549 MPa lost.");
  }

  /** A level that stays low may be newer and begin earlier; the loss is what the change is. */
  @Test
  void theFindingThatJudgesTheChangeItselfSaysItAndSinceWhen() {
    OpenChange open =
        OpenChange.in(
                List.of(
                    finding("lost", "ch", "ch", Priority.MEDIUM, 2_000, 3_000),
                    finding("low", "PT", "ch", Priority.HIGH, 1_000, 9_000)))
            .get(0);
    assertThat(open.voice().id()).isEqualTo("lost");
    assertThat(open.onsetMs()).isEqualTo(2_000);
  }

  @Test
  void whereNothingLastsNothingIsOpen() {
    assertThat(OpenChange.in(List.of())).isEmpty();
  }
}
