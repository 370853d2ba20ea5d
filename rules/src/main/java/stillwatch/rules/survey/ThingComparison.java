package stillwatch.rules.survey;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import stillwatch.ingest.telemetry.SurveyItem;

/**
 * Each thing beside what was seen before the closing. Two sizes differ when they do by more than
 * their uncertainties together: the root of the sum of the squares, as of independent measurements
 * (JCGM 100:2008, 5.1.2). An uncertainty that nobody gave counts as none.
 */
final class ThingComparison {
  private final List<SurveyItem> inOrder;
  private final List<Survey.Pass> passes;
  private final Optional<Long> closedMs;

  ThingComparison(List<SurveyItem> inOrder, List<Survey.Pass> passes, Optional<Long> closedMs) {
    this.inOrder = inOrder;
    this.passes = passes;
    this.closedMs = closedMs;
  }

  List<Survey.Thing> all() {
    Map<String, List<SurveyItem>> byName = new LinkedHashMap<>();
    Map<List<String>, List<SurveyItem>> byMeans = new LinkedHashMap<>();
    for (SurveyItem i : inOrder) {
      if (i.what() != SurveyItem.What.NOTHING) {
        byName.computeIfAbsent(i.name(), n -> new ArrayList<>()).add(i);
        byMeans.computeIfAbsent(List.of(i.means(), i.name()), n -> new ArrayList<>()).add(i);
      }
    }
    List<Survey.Thing> all = new ArrayList<>();
    for (List<SurveyItem> mentions : byMeans.values()) {
      all.add(thing(mentions, byName.getOrDefault(mentions.get(0).name(), List.of())));
    }
    return List.copyOf(all);
  }

  private boolean before(SurveyItem item) {
    return closedMs.map(c -> Surveys.lookedMs(item) < c).orElse(true);
  }

  private static boolean seen(SurveyItem item) {
    return item.what() == SurveyItem.What.SEEN;
  }

  private static Optional<SurveyItem> last(List<SurveyItem> items) {
    return items.isEmpty() ? Optional.empty() : Optional.of(items.get(items.size() - 1));
  }

  /** A state, since when, and why. */
  private record Judged(Comparison state, SurveyItem since, String why) {}

  private Survey.Thing thing(List<SurveyItem> mentions, List<SurveyItem> byAnyMeans) {
    List<SurveyItem> seen = mentions.stream().filter(ThingComparison::seen).toList();
    SurveyItem last = mentions.get(mentions.size() - 1);
    Judged judged = judged(mentions, byAnyMeans);
    return new Survey.Thing(
        last.means(),
        last.name(),
        last(seen).flatMap(SurveyItem::at),
        byAnyMeans.stream().filter(ThingComparison::seen).findFirst().map(Surveys::lookedMs),
        last(seen).map(Surveys::lookedMs),
        seen(last) ? Optional.empty() : Optional.of(Surveys.lookedMs(last)),
        judged.state(),
        Surveys.lookedMs(judged.since()),
        judged.why());
  }

  private Judged judged(List<SurveyItem> mentions, List<SurveyItem> byAnyMeans) {
    SurveyItem last = mentions.get(mentions.size() - 1);
    if (!seen(last)) {
      return new Judged(
          Comparison.GONE,
          last,
          SeabedWords.pass(last) + " finds '%s' gone".formatted(last.name()));
    }
    if (closedMs.isEmpty()) {
      return new Judged(
          Comparison.NO_CLOSING, last, "No closure step is logged" + unseenSince(last));
    }
    if (before(last)) {
      return new Judged(
          Comparison.NOT_LOOKED,
          last,
          SeabedWords.pass(last)
              + " before the closing sees %s; %s".formatted(SeabedWords.what(last), later(last)));
    }
    boolean known =
        last(byAnyMeans.stream().filter(this::before).toList())
            .filter(ThingComparison::seen)
            .isPresent();
    return known ? known(last, mentions, byAnyMeans) : unknown(last, mentions);
  }

  /** Seen since the closing, and not there before it as far as anybody saw. */
  private Judged unknown(SurveyItem last, List<SurveyItem> mentions) {
    SurveyItem first =
        mentions.stream().filter(i -> !before(i) && seen(i)).findFirst().orElse(last);
    Optional<Survey.Pass> baseline =
        passes.stream()
            .filter(p -> p.means().equals(last.means()) && p.before().orElse(false))
            .reduce((a, b) -> b.toMs() >= a.toMs() ? b : a);
    if (baseline.isPresent()) {
      return new Judged(
          Comparison.NEW,
          first,
          "%s sees %s; pass '%s' before the closing does not%s"
              .formatted(
                  SeabedWords.pass(first),
                  SeabedWords.what(last),
                  baseline.get().name(),
                  unseenSince(last)));
    }
    Survey.Pass earliest =
        passes.stream().filter(p -> p.means().equals(last.means())).findFirst().orElseThrow();
    if (!earliest.name().equals(first.pass())) {
      return new Judged(
          Comparison.NEW,
          first,
          "%s sees %s; pass '%s', the first since the closing, does not%s"
              .formatted(
                  SeabedWords.pass(first),
                  SeabedWords.what(last),
                  earliest.name(),
                  unseenSince(last)));
    }
    return new Judged(
        Comparison.NONE_BEFORE,
        first,
        "%s sees %s; no pass by %s before the closing is logged%s"
            .formatted(
                SeabedWords.pass(first), SeabedWords.what(last), last.means(), unseenSince(last)));
  }

  /** Seen before the closing and since. */
  private Judged known(SurveyItem last, List<SurveyItem> mentions, List<SurveyItem> byAnyMeans) {
    Optional<SurveyItem> same = last(mentions.stream().filter(i -> before(i) && seen(i)).toList());
    SurveyItem earlier =
        same.or(() -> last(byAnyMeans.stream().filter(i -> before(i) && seen(i)).toList()))
            .orElseThrow();
    SurveyItem.Shape was = earlier.at().orElseThrow();
    SurveyItem.Shape is = last.at().orElseThrow();
    double change = same.isEmpty() ? Double.NaN : is.sizeM() - was.sizeM();
    double within = Math.hypot(given(was.uncertaintyM()), given(is.uncertaintyM()));
    Comparison state =
        Double.isNaN(change)
            ? Comparison.SIZE_UNKNOWN
            : change > within
                ? Comparison.GROWN
                : change < -within ? Comparison.SMALLER : Comparison.UNCHANGED;
    return new Judged(
        state,
        last,
        "%s sees %s; %s before the closing saw it%s%s%s"
            .formatted(
                SeabedWords.pass(last),
                SeabedWords.what(last),
                lower(SeabedWords.pass(earlier)),
                Double.isNaN(was.sizeM()) ? "" : " of " + SeabedWords.size(was),
                moved(was, is),
                unseenSince(last)));
  }

  private static double given(double uncertaintyM) {
    return Double.isNaN(uncertaintyM) ? 0 : uncertaintyM;
  }

  private static String moved(SurveyItem.Shape was, SurveyItem.Shape is) {
    double by = Math.hypot(is.eastM() - was.eastM(), is.northM() - was.northM());
    return by < 1 ? "" : String.format(Locale.ROOT, ", %.0f m from there", by);
  }

  private Optional<Survey.Pass> newer(SurveyItem item) {
    return passes.stream()
        .filter(
            p ->
                p.means().equals(item.means())
                    && p.toMs() > Surveys.lookedMs(item)
                    && !p.name().equals(item.pass()))
        .reduce((a, b) -> b.toMs() >= a.toMs() ? b : a);
  }

  /** Tells that a newer pass by the same means says nothing of it. */
  private String unseenSince(SurveyItem last) {
    return newer(last).map(p -> "; pass '" + p.name() + "' has not looked for it").orElse("");
  }

  private String later(SurveyItem last) {
    return newer(last)
        .filter(p -> !p.before().orElse(true))
        .map(p -> "pass '" + p.name() + "' has not looked for it")
        .orElse("no pass by " + last.means() + " since");
  }

  private static String lower(String pass) {
    return pass.substring(0, 1).toLowerCase(Locale.ROOT) + pass.substring(1);
  }
}
