package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.rules.finding.Finding;

/** The rules that say what is new or has grown on the seabed since the closing. */
class SeabedRulesTest {
  private static final double LEVEL = 46_900;

  private static void seen(WellDriver well, String pass, String name, double size) {
    well.surveyed(
        pass,
        SurveyItem.What.SEEN,
        name,
        Optional.of(new SurveyItem.Shape("bubbles", 3, -4, size, 0.1)));
  }

  private static void closed(WellDriver well) {
    well.run(60, s -> LEVEL);
    well.logged(Operation.What.CLOSURE_STEP, "choke part-turn 6 of 6, shut");
    well.run(60, s -> LEVEL);
  }

  @Test
  void aNewThingIsHighAtOnceAndReturnsWhenItIsFoundGone() {
    try (WellDriver well = new WellDriver()) {
      seen(well, "dive 1", "seep", 1);
      closed(well);
      seen(well, "dive 2", "seep", 1);
      well.run(20, s -> LEVEL);
      assertThat(well.findings()).extracting(Finding::rule).doesNotContain("seabed-new");
      seen(well, "dive 2", "seep 2", 0.4);
      assertThat(well.said("seabed-new")).containsExactly("raised ");
      assertThat(well.first("seabed-new").subject()).isEqualTo("camera, seep 2");
      assertThat(well.first("seabed-new").priority()).isEqualTo(Priority.HIGH);
      assertThat(well.first("seabed-new").summary())
          .startsWith("Camera pass 'dive 2' sees 'seep 2' (bubbles, 0.4 ± 0.1 m, 3.0 m east");
      well.run(20, s -> LEVEL);
      well.surveyed("dive 3", SurveyItem.What.NOTHING, "", Optional.empty());
      well.run(20, s -> LEVEL);
      assertThat(well.said("seabed-new")).hasSize(1);
      well.surveyed("dive 4", SurveyItem.What.GONE, "seep 2", Optional.empty());
      well.run(20, s -> LEVEL);
      assertThat(well.said("seabed-new")).containsExactly("raised ", "returned ");
    }
  }

  @Test
  void whatHasGrownIsMediumAndAPassWithoutComparisonLow() {
    try (WellDriver well = new WellDriver()) {
      seen(well, "dive 1", "seep", 1);
      closed(well);
      seen(well, "dive 2", "seep", 1.2);
      well.surveyed("line 1", "sonar", SurveyItem.What.NOTHING, "", Optional.empty());
      well.run(20, s -> LEVEL);
      assertThat(well.said("seabed-grown")).containsExactly("raised ");
      assertThat(well.first("seabed-grown").priority()).isEqualTo(Priority.MEDIUM);
      assertThat(well.said("survey-uncompared")).containsExactly("raised ");
      assertThat(well.first("survey-uncompared").priority()).isEqualTo(Priority.LOW);
    }
  }

  @Test
  void whatIsSeenWithNothingToCompareItWithIsMedium() {
    try (WellDriver well = new WellDriver()) {
      closed(well);
      seen(well, "dive 1", "seep", 1);
      well.run(20, s -> LEVEL);
      assertThat(well.first("seabed-uncompared").priority()).isEqualTo(Priority.MEDIUM);
      assertThat(well.first("seabed-uncompared").summary())
          .contains("no pass by camera before the closing is logged");
      assertThat(well.said("seabed-new")).isEmpty();
      well.surveyed("dive 2", SurveyItem.What.GONE, "seep", Optional.empty());
      well.run(20, s -> LEVEL);
      assertThat(well.said("seabed-uncompared")).containsExactly("raised ", "returned ");
    }
  }
}
