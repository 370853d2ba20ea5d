package stillwatch.rules.survey;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.rules.closing.Cycles;

/**
 * What passes over the seabed saw, as the log tells it to the rules, the page and the report alike.
 * A pass is before the closing when it was before the first closure step of the test, so that a
 * second cycle forgets nothing. A pure function of the log; not thread-safe.
 */
public final class Surveys {
  private final Cycles cycles;
  private final List<SurveyItem> items = new ArrayList<>();
  private @Nullable Survey told;

  /** Before the first pass of a test whose cycles these are. */
  public Surveys(Cycles cycles) {
    this.cycles = cycles;
  }

  /** Takes what a pass saw; one that is written down late is put in its place. */
  public void accept(SurveyItem item) {
    items.add(item);
    told = null;
  }

  /** When it was seen: a stamp ahead of its reception is ignored. */
  static long lookedMs(SurveyItem item) {
    return Math.min(item.atMs(), item.receivedMs());
  }

  /** What all passes say up to now. */
  public Survey compared() {
    Optional<Long> closedMs = cycles.firstClosedMs();
    Survey last = told;
    if (last != null && last.closedMs().equals(closedMs)) {
      return last;
    }
    List<SurveyItem> inOrder = new ArrayList<>(items);
    inOrder.sort(Comparator.comparingLong(Surveys::lookedMs));
    List<Survey.Pass> passes = passes(inOrder, closedMs);
    Survey now =
        new Survey(
            closedMs,
            passes,
            new ThingComparison(inOrder, passes, closedMs).all(),
            withoutComparison(passes));
    told = now;
    return now;
  }

  /** A pass in which the closing began counts as two. */
  private static List<Survey.Pass> passes(List<SurveyItem> inOrder, Optional<Long> closedMs) {
    Map<List<Object>, Survey.Pass> passes = new LinkedHashMap<>();
    for (SurveyItem i : inOrder) {
      long ms = lookedMs(i);
      Optional<Boolean> before = closedMs.map(c -> ms < c);
      int seen = i.what() == SurveyItem.What.SEEN ? 1 : 0;
      int gone = i.what() == SurveyItem.What.GONE ? 1 : 0;
      passes.merge(
          List.of(i.means(), i.pass(), before),
          new Survey.Pass(i.means(), i.pass(), ms, ms, before, seen, gone),
          (a, b) ->
              new Survey.Pass(
                  a.means(),
                  a.name(),
                  a.fromMs(),
                  b.toMs(),
                  before,
                  a.seen() + b.seen(),
                  a.gone() + b.gone()));
    }
    return List.copyOf(passes.values());
  }

  private static List<Survey.WithoutComparison> withoutComparison(List<Survey.Pass> passes) {
    Map<String, Survey.WithoutComparison> all = new LinkedHashMap<>();
    for (Survey.Pass p : passes) {
      if (p.before().isPresent()) {
        all.putIfAbsent(
            p.means(),
            new Survey.WithoutComparison(
                p.means(),
                !p.before().get(),
                p.fromMs(),
                "Pass '%s' by %s is compared with none: no pass by %s before the closing is logged"
                    .formatted(p.name(), p.means(), p.means())));
      }
    }
    return List.copyOf(all.values());
  }
}
