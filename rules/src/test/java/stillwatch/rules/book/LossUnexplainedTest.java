package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.Hypothesis;
import stillwatch.rules.finding.Hypothesis.Cause;

/**
 * One event is one alarm: what is lost is told anew only when the alarm of the fall no longer does.
 */
class LossUnexplainedTest {
  private static final String RULE = "loss-unexplained";

  @Test
  void whileTheAlarmOfTheFallStandsTheLossIsNotToldTwiceAndWhenItReturnsTheLossStays() {
    try (WellDriver well = new WellDriver()) {
      well.run(1800, s -> 45_000).run(20, s -> 45_000 - 10 * s).run(560, s -> 44_800);
      assertThat(well.said("sudden-drop")).containsExactly("raised PT-1,PT-2");
      assertThat(well.said(RULE)).isEmpty();
      assertThat(well.first("sudden-drop").evidence().hypotheses())
          .containsExactly(
              new Hypothesis(Cause.WELL, List.of("seen by PT-1 and PT-2"), List.of()),
              new Hypothesis(Cause.GAUGE, List.of(), List.of("2 gauges show it")),
              new Hypothesis(
                  Cause.OPERATION, List.of(), List.of("no operation is logged near that time")),
              new Hypothesis(Cause.SURROUNDINGS, List.of(), List.of()));

      well.run(900, s -> 44_800);
      Finding over = well.last("sudden-drop");
      Finding loss = well.first(RULE);
      assertThat(over.returned()).isTrue();
      assertThat(over.summary())
          .startsWith("No longer a sudden fall: 44.794 MPa, between the bands, flat. NOT recovered")
          .contains("0.206 MPa below 45 MPa before");
      assertThat(loss.change()).isEqualTo(over.change());
      assertThat(loss.raisedMs() - over.onsetMs()).isLessThan(900_000L);
      assertThat(well.said(RULE)).containsExactly("raised PT-1,PT-2");
    }
  }

  @Test
  void whatHasOutgrownTheAlarmThatStandsIsToldAnew() {
    try (WellDriver well = new WellDriver()) {
      well.run(1800, s -> 45_000).run(900, s -> 45_000 - 2 * s);
      assertThat(well.said("sudden-drop")).containsExactly("raised PT-1,PT-2");
      assertThat(well.said(RULE)).contains("raised PT-1,PT-2");
    }
  }
}
