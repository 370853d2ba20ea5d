package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import stillwatch.rules.finding.Finding;

/** What a person's explanation of a change does, through the whole rule book. */
class ExplanationTest {
  private static final String RULE = "explanation-refused";

  @Test
  void aChangeIsExplainedOnceByItsIdAndAnyOtherExplanationIsRefused() {
    try (WellDriver well = new WellDriver()) {
      well.run(1800, s -> 45_000 + 0.01 * s).run(900, s -> 44_700);
      Finding loss = well.first("loss-unexplained");
      assertThat(loss.change()).isNotNull();

      well.explained("0a1b2c3d4e5f").run(20, s -> 44_700);
      assertThat(well.first(RULE).summary())
          .isEqualTo(
              "Ada Berg explained change 0a1b2c3d4e5f, and no change of that id is open: it never was one, or is closed.");
      assertThat(well.said("loss-unexplained")).last().asString().startsWith("raised");
      well.run(90, s -> 44_700);
      assertThat(well.said(RULE)).containsExactly("raised ", "returned ");

      well.explained(String.valueOf(loss.change())).run(90, s -> 44_700);
      assertThat(well.said("loss-unexplained")).last().asString().startsWith("returned");
      assertThat(well.said(RULE)).hasSize(2);

      well.explained(String.valueOf(loss.change())).run(90, s -> 44_700);
      assertThat(well.said(RULE)).as("it is closed by now").hasSize(4);
    }
  }
}
