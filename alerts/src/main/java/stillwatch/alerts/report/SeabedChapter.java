package stillwatch.alerts.report;

import java.util.ArrayList;
import java.util.List;
import stillwatch.alerts.series.SeabedPicture;
import stillwatch.rules.survey.SeabedWords;
import stillwatch.rules.survey.Survey;

/** What passes over the seabed saw, compared with before the closing. */
final class SeabedChapter {
  private final ReportParts parts;

  SeabedChapter(ReportParts parts) {
    this.parts = parts;
  }

  /** Nothing where no pass is logged up to the end of the stretch. */
  void write(Html html) {
    Survey survey = parts.picture().survey();
    if (survey.passes().stream().noneMatch(p -> p.fromMs() <= parts.endMs())) {
      return;
    }
    html.heading("Seabed, compared with before the closing");
    html.lead(
        survey
            .closedMs()
            .map(ms -> "The first closure step was " + parts.time(ms) + ".")
            .orElse("No closure step is logged: nothing is compared yet."));
    survey.comparedWithNone().forEach(html::paragraph);
    html.raw(SeabedPicture.of(survey));
    List<List<String>> rows = new ArrayList<>();
    for (int i = 0; i < survey.things().size(); i++) {
      rows.add(row(i + 1, survey.things().get(i)));
    }
    html.table(
        List.of("No.", "Thing", "What and where", "First seen", "Last seen", "State", "Why"),
        rows,
        "No pass has seen anything.");
    html.table(
        List.of("Pass", "When", "Saw", "Closing"),
        survey.passes().stream().map(this::pass).toList(),
        "");
  }

  private List<String> row(int number, Survey.Thing t) {
    return List.of(
        String.valueOf(number),
        t.name() + ", by " + t.means(),
        t.shape().map(s -> SeabedWords.kind(s) + "; " + SeabedWords.place(s)).orElse(""),
        t.firstMs().map(parts::time).orElse("by nobody"),
        t.lastMs().map(parts::time).orElse("by nobody"),
        t.state().words() + t.goneMs().map(ms -> " " + parts.time(ms)).orElse(""),
        t.why() + ".");
  }

  private List<String> pass(Survey.Pass p) {
    return List.of(
        p.means() + ", " + p.name(),
        parts.time(p.fromMs()),
        p.seen() + " seen, " + p.gone() + " gone",
        p.before().map(b -> b ? "before it" : "since it").orElse("none logged"));
  }
}
