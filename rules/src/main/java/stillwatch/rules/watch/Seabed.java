package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.indicator.SeabedIndicator;
import stillwatch.rules.survey.Survey;

/** What passes over the seabed say, for the rules. */
final class Seabed {
  private Seabed() {}

  static List<SeabedIndicator> of(Survey survey, String well, long nowMs) {
    List<SeabedIndicator> all = new ArrayList<>();
    for (Survey.Thing t : survey.things()) {
      all.add(
          new SeabedIndicator(
              well,
              nowMs,
              "thing",
              t.means() + ", " + t.name(),
              t.state().wire(),
              t.sinceMs(),
              t.why()));
    }
    for (Survey.WithoutComparison w : survey.withoutComparison()) {
      all.add(
          new SeabedIndicator(
              well,
              nowMs,
              "means",
              w.means(),
              w.none() ? "none-before" : "compared",
              w.atMs(),
              w.why()));
    }
    return all;
  }
}
