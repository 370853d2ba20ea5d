package stillwatch.alerts.series;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.StringReader;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.xml.sax.InputSource;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.rules.survey.Comparison;
import stillwatch.rules.survey.Survey;

/** A plan view is right where geometry says so: north up, east to the right, one scale. */
class SeabedPictureTest {
  private static final double MIDDLE = 200;
  private static final Pattern NUMBERS = Pattern.compile("-?[0-9]+(\\.[0-9]+)?");

  private static Survey.Thing thing(Comparison state, double east, double north, double size) {
    return new Survey.Thing(
        "camera",
        "<seep> & more",
        Optional.of(new SurveyItem.Shape("bubbles", east, north, size, Double.NaN)),
        Optional.of(0L),
        Optional.of(0L),
        Optional.empty(),
        state,
        0,
        "so");
  }

  private static String drawn(Survey.Thing... things) {
    return SeabedPicture.of(new Survey(Optional.of(0L), List.of(), List.of(things), List.of()));
  }

  /** The numbers of the first line that has this. */
  private static List<Double> numbers(String svg, String has) {
    String line = svg.lines().filter(l -> l.contains(has)).findFirst().orElseThrow();
    return NUMBERS
        .matcher(line.substring(line.indexOf(has)))
        .results()
        .map(MatchResult::group)
        .map(Double::valueOf)
        .toList();
  }

  @Test
  void aThingStandsEastToTheRightAndNorthUpAtTheScaleOfTheBar() {
    String svg = drawn(thing(Comparison.NEW, 30, 40, 10));
    List<Double> mark = numbers(svg, "class=\"new\"");
    double perMetre = (mark.get(0) - MIDDLE) / 30;

    assertThat(perMetre).isPositive();
    assertThat(MIDDLE - mark.get(1)).isCloseTo(40 * perMetre, within(0.2));
    List<Double> ring = numbers(svg, "cx=");
    assertThat(ring.get(2)).as("half its size").isCloseTo(5 * perMetre, within(0.1));
    List<Double> bar = numbers(svg, "d=\"M12 ");
    assertThat(svg).contains(">20 m</text>");
    assertThat(bar.get(3)).isCloseTo(20 * perMetre, within(0.1));
  }

  @Test
  void everyStateHasAShapeOfItsOwnWordsAndAPlaceInTheLegend() throws Exception {
    List<String> shapes = new ArrayList<>();
    for (Comparison state : Comparison.values()) {
      String svg = drawn(thing(state, 3, -4, Double.NaN));
      assertThat(svg).contains(">" + state.words() + "</text>", ">1 ");
      DocumentBuilderFactory.newInstance()
          .newDocumentBuilder()
          .parse(new InputSource(new StringReader(svg)));
      shapes.add(
          svg.lines()
              .filter(l -> l.contains("420") && !l.contains("<text"))
              .findFirst()
              .orElseThrow());
    }
    assertThat(shapes.stream().distinct()).as("two pairs share one").hasSize(7);
  }

  @Test
  void labelsOfThingsAtOnePlaceDoNotCoverEachOther() {
    Survey.Thing[] heap = new Survey.Thing[8];
    Arrays.fill(heap, thing(Comparison.UNCHANGED, 1, 1, 0.5));
    List<Double> lines =
        drawn(heap)
            .lines()
            .filter(l -> l.contains("unchanged</text>") && l.matches(".*>\\d .*"))
            .map(l -> numbers(l, " y=").get(0))
            .toList();
    assertThat(lines).hasSize(8).doesNotHaveDuplicates();
  }
}
