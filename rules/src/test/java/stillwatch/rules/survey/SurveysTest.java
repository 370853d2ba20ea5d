package stillwatch.rules.survey;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.closing.Cycles;
import stillwatch.rules.plan.PlanLoader;

/**
 * Passes over the seabed before and after the closing. The uncertainties add up as the squares of
 * independent ones do (JCGM 100:2008, 5.1.2): 0.3 m and 0.4 m to 0.5 m.
 */
class SurveysTest {
  private static final long START = 1_772_967_600_000L;
  private static final long HOUR = 3_600_000;

  private final Cycles cycles =
      new Cycles(PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped()));
  private final Surveys surveys = new Surveys(cycles);

  private static long hour(double hour) {
    return START + Math.round(hour * HOUR);
  }

  private void item(
      double hour,
      String means,
      String pass,
      SurveyItem.What what,
      String name,
      Optional<SurveyItem.Shape> at) {
    surveys.accept(
        new SurveyItem("w", hour(hour), hour(99), means, pass, what, name, at, "", "crew"));
  }

  private void seen(double hour, String pass, String name, double size, double uncertainty) {
    item(
        hour,
        "camera",
        pass,
        SurveyItem.What.SEEN,
        name,
        Optional.of(new SurveyItem.Shape("bubbles", 3, -4, size, uncertainty)));
  }

  private void gone(double hour, String pass, String name) {
    item(hour, "camera", pass, SurveyItem.What.GONE, name, Optional.empty());
  }

  private void nothing(double hour, String means, String pass) {
    item(hour, means, pass, SurveyItem.What.NOTHING, "", Optional.empty());
  }

  /** The closing begins at hour 10. */
  private void closed() {
    cycles.closed("choke part-turn 1 of 6", hour(10), hour(10));
  }

  private Survey.Thing thing(String name) {
    return surveys.compared().things().stream()
        .filter(t -> t.name().equals(name))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void whatNobodySawBeforeTheClosingIsNewAndSaysSoWithPlaceAndPasses() {
    seen(2, "dive 1", "old seep", 1, 0.1);
    closed();
    seen(12, "dive 2", "seep", 0.4, 0.1);
    seen(13, "dive 2", "old seep", 1, 0.1);

    assertThat(thing("seep").state()).isEqualTo(Comparison.NEW);
    assertThat(thing("seep").why())
        .isEqualTo(
            "Camera pass 'dive 2' sees 'seep' (bubbles, 0.4 ± 0.1 m, 3.0 m east, 4.0 m south of"
                + " the wellhead); pass 'dive 1' before the closing does not");
    assertThat(thing("seep").firstMs()).contains(hour(12));
    assertThat(thing("old seep").state()).isEqualTo(Comparison.UNCHANGED);
    assertThat(thing("old seep").firstMs()).contains(hour(2));
    assertThat(surveys.compared().withoutComparison()).noneMatch(Survey.WithoutComparison::none);
  }

  @Test
  void aSizeHasChangedOnlyByMoreThanBothUncertaintiesTogether() {
    for (String name : new String[] {"a", "b", "c", "d", "e"}) {
      seen(
          2,
          "dive 1",
          name,
          name.equals("e") ? Double.NaN : 2,
          name.equals("e") ? Double.NaN : 0.3);
    }
    closed();
    seen(12, "dive 2", "a", 2.49, 0.4);
    seen(12, "dive 2", "b", 2.51, 0.4);
    seen(12, "dive 2", "c", 1.49, 0.4);
    seen(12, "dive 2", "d", 2.31, Double.NaN);
    seen(12, "dive 2", "e", 2, 0.4);

    assertThat(thing("a").state()).isEqualTo(Comparison.UNCHANGED);
    assertThat(thing("b").state()).isEqualTo(Comparison.GROWN);
    assertThat(thing("c").state()).isEqualTo(Comparison.SMALLER);
    assertThat(thing("d").state()).isEqualTo(Comparison.GROWN);
    assertThat(thing("e").state()).isEqualTo(Comparison.SIZE_UNKNOWN);
  }

  @Test
  void aPassThatDidNotLookCannotSayGone() {
    seen(2, "dive 1", "seep", 1, 0.1);
    seen(2, "dive 1", "mound", 1, 0.1);
    closed();
    assertThat(thing("seep").why()).endsWith("no pass by camera since");
    nothing(12, "camera", "dive 2");
    gone(12, "dive 2", "mound");

    assertThat(thing("seep").state()).isEqualTo(Comparison.NOT_LOOKED);
    assertThat(thing("seep").why()).endsWith("pass 'dive 2' has not looked for it");
    assertThat(thing("mound").state()).isEqualTo(Comparison.GONE);
    assertThat(thing("mound").goneMs()).contains(hour(12));
  }

  @Test
  void whatIsNewStaysNewWhereALaterPassDoesNotLookAndUntilItIsFoundGone() {
    nothing(2, "camera", "dive 1");
    closed();
    seen(12, "dive 2", "seep", 1, 0.1);
    nothing(14, "camera", "dive 3");
    assertThat(thing("seep").state()).isEqualTo(Comparison.NEW);
    assertThat(thing("seep").why()).endsWith("; pass 'dive 3' has not looked for it");
    gone(16, "dive 4", "seep");
    assertThat(thing("seep").state()).isEqualTo(Comparison.GONE);
    seen(18, "dive 5", "seep", 1, 0.1);
    assertThat(thing("seep").state()).as("it is back").isEqualTo(Comparison.NEW);
  }

  @Test
  void withoutAPassBeforeTheClosingThatIsToldAndOnlyWhatComesLaterIsNew() {
    closed();
    seen(12, "dive 1", "seep", 1, 0.1);
    seen(14, "dive 2", "crack", 1, 0.1);

    assertThat(thing("seep").state()).isEqualTo(Comparison.NONE_BEFORE);
    assertThat(thing("crack").state()).isEqualTo(Comparison.NEW);
    assertThat(surveys.compared().withoutComparison())
        .containsExactly(
            new Survey.WithoutComparison(
                "camera",
                true,
                hour(12),
                "Pass 'dive 1' by camera is compared with none: no pass by camera before the"
                    + " closing is logged"));

    seen(3, "dive 0", "seep", 1, 0.1);
    assertThat(thing("seep").state()).as("entered late").isEqualTo(Comparison.UNCHANGED);
    assertThat(surveys.compared().withoutComparison().get(0).none()).isFalse();
  }

  @Test
  void whatAnotherMeansSawBeforeIsNotNewAndASecondCycleForgetsNothing() {
    nothing(1, "camera", "dive 1");
    item(
        2,
        "sonar",
        "line 1",
        SurveyItem.What.SEEN,
        "seep",
        Optional.of(new SurveyItem.Shape("spot", 30, -4, 2, 0.5)));
    closed();
    seen(12, "dive 2", "seep", 9, 0.1);
    seen(12, "dive 2", "crack", 9, 0.1);
    cycles.shutIn(hour(11));
    cycles.accept(
        new Decision("w", hour(13), hour(13), Decision.Choice.CYCLE, "A", "so", 0, "slower"));
    cycles.closed("choke part-turn 1 of 6", hour(20), hour(20));
    seen(21, "dive 3", "crack", 9, 0.1);

    Survey.Thing byCamera =
        surveys.compared().things().stream()
            .filter(t -> t.name().equals("seep") && t.means().equals("camera"))
            .findFirst()
            .orElseThrow();
    assertThat(byCamera.state()).isEqualTo(Comparison.SIZE_UNKNOWN);
    assertThat(byCamera.why())
        .contains("sonar pass 'line 1' before the closing saw it of 2.0 ± 0.5 m, 27 m from there");
    assertThat(thing("crack").state()).isEqualTo(Comparison.NEW);
  }

  @Test
  void whileNoClosingIsLoggedNothingIsComparedAndAStampAheadOfItsReceptionIsIgnored() {
    seen(2, "dive 1", "seep", 1, 0.1);
    assertThat(thing("seep").state()).isEqualTo(Comparison.NO_CLOSING);
    assertThat(surveys.compared().withoutComparison()).isEmpty();
    closed();
    surveys.accept(
        new SurveyItem(
            "w",
            hour(50),
            hour(3),
            "camera",
            "dive 1",
            SurveyItem.What.SEEN,
            "mound",
            Optional.of(new SurveyItem.Shape("mound", 1, 1, Double.NaN, Double.NaN)),
            "",
            ""));
    assertThat(thing("mound").state()).isEqualTo(Comparison.NOT_LOOKED);
  }
}
