package stillwatch.alerts.report;

import java.util.List;
import java.util.Optional;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.series.Meanwhile;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.leaving.Absence;
import stillwatch.rules.leaving.Leaving;
import stillwatch.rules.leaving.LeavingWords;

/** The weather that was forecast, and each time in which the well was watched from shore. */
final class LeavingChapter {
  private final ReportParts parts;

  LeavingChapter(ReportParts parts) {
    this.parts = parts;
  }

  /** Nothing where nobody forecast weather or left. */
  void write(Html html) {
    List<List<String>> forecasts =
        parts.picture().forecasts().stream()
            .filter(f -> parts.stretch().has(Leaving.saidMs(f)))
            .map(f -> List.of(parts.time(Leaving.saidMs(f)), LeavingWords.of(f)))
            .toList();
    List<Absence> absences = parts.picture().absences().stream().filter(this::touches).toList();
    if (forecasts.isEmpty() && absences.isEmpty()) {
      return;
    }
    html.heading("Weather and leaving");
    html.table(List.of("Entered", "Forecast"), forecasts, "No weather was entered.");
    parts
        .picture()
        .leavingDecided()
        .filter(d -> parts.stretch().has(d.atMs()))
        .ifPresent(
            d ->
                html.paragraph(
                    "Decided last about leaving: %s, by %s at %s: %s"
                        .formatted(d.choice().wire(), d.by(), parts.time(d.atMs()), d.why())));
    absences.forEach(a -> absence(html, a));
  }

  private boolean touches(Absence a) {
    return a.fromMs() <= parts.endMs()
        && a.toMs().orElse(Long.MAX_VALUE) >= parts.stretch().fromMs();
  }

  private void absence(Html html, Absence a) {
    Optional<String> back =
        a.back()
            .map(
                b ->
                    "until %s, when %s took over on site"
                        .formatted(parts.time(Leaving.saidMs(b)), b.by()));
    html.paragraph(
        "Watched from shore from %s %s. %s"
            .formatted(
                parts.time(a.fromMs()),
                back.orElse("on, last confirmed " + parts.time(a.confirmedMs())),
                Meanwhile.pressures(a, parts.picture(), parts.plan())));
    List<Finding> findings = parts.alarms().stream().map(DeskAlarm::finding).toList();
    html.table(
        List.of("When", "What happened meanwhile"),
        Meanwhile.of(a, findings).stream()
            .filter(r -> parts.stretch().has(r.atMs()))
            .map(r -> List.of(parts.time(r.atMs()), r.text()))
            .toList(),
        "Nothing in this stretch.");
  }
}
