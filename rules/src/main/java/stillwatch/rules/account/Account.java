package stillwatch.rules.account;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Predicate;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.rules.finding.Hypothesis;

/**
 * The changes of one well. A change is entered when a rule with a sense raises; a further report of
 * the same fall is the same change. It leaves the open ones when its gauges are back where they
 * were, when a person explains it, when an operation does, or when evidence shows the gauge at
 * fault; never because the pressure has settled lower. Times must increase. Not thread-safe.
 */
public final class Account {
  /** The sense whose changes are measured against the levels of gauges. */
  public static final String PRESSURE = "pressure";

  /** A fall that goes on within this time of the last one is the same change. */
  private static final long SAME_FALL_MS = 30 * 60_000L;

  private static final int KEPT = 200;

  private final String well;
  private final List<Entry> entries = new ArrayList<>();

  /**
   * What a rule reports.
   *
   * @param sense the sense it speaks for
   * @param rule the rule's id
   * @param finding the finding's id
   * @param onsetMs when the change began, source's time
   * @param nowMs log time
   * @param felt the gauges that felt it, each with its level before; empty for a sense without
   *     levels
   * @param rise how the level was rising before it
   * @param nearby what was logged near it; empty when nothing was
   * @param backByMs an operation explains it if it is back by then, log time; {@link
   *     Long#MAX_VALUE} when it explains it for good; 0 when none does
   */
  public record Report(
      String sense,
      String rule,
      String finding,
      long onsetMs,
      long nowMs,
      List<Witness> felt,
      Rise rise,
      String nearby,
      long backByMs) {}

  /** An account without changes. */
  public Account(String well) {
    this.well = well;
  }

  /**
   * Enters what a rule reports.
   *
   * @return the id of the change it is part of
   */
  public String enter(Report report) {
    Entry same = same(report);
    if (same != null) {
      same.goesOn(report);
      return same.id;
    }
    Entry entry = new Entry(well, report);
    entries.add(entry);
    if (entries.size() > KEPT) {
      entries.stream().filter(e -> !e.live()).findFirst().ifPresent(entries::remove);
    }
    return entry.id;
  }

  private @Nullable Entry same(Report report) {
    for (int i = entries.size() - 1; i >= 0; i--) {
      Entry e = entries.get(i);
      if (e.live() && e.sense.equals(report.sense()) && e.continues(report, SAME_FALL_MS)) {
        return e;
      }
    }
    return null;
  }

  /** A sense without levels is back to normal. */
  public void back(String finding, long nowMs) {
    for (Entry e : entries) {
      if (e.live() && e.finding.equals(finding) && !e.hasLevels()) {
        e.close(Change.State.BACK, "Back to normal.", nowMs);
      }
    }
  }

  /**
   * Looks at all live changes with the gauges' present levels.
   *
   * @param nowMs log time
   * @param now a gauge as it stands now; empty when the well has none of that name
   * @param all every gauge that could feel a change of the pressure
   */
  public void look(long nowMs, Function<String, Optional<Witness>> now, List<Witness> all) {
    for (Entry e : entries) {
      if (e.live()) {
        e.look(nowMs, now, all);
      }
    }
  }

  /**
   * A person explains a change.
   *
   * @return whether there is such a change and it was not closed
   */
  public boolean explain(Explanation explanation) {
    for (Entry e : entries) {
      if (e.id.equals(explanation.change()) && e.live()) {
        e.close(
            Change.State.EXPLAINED,
            "Explained by " + explanation.by() + ": " + explanation.why(),
            explanation.receivedMs());
        return true;
      }
    }
    return false;
  }

  /** Evidence shows the gauge at fault: its changes are explained, and so is it said. */
  public void gaugeAtFault(String change, String why, long nowMs) {
    for (Entry e : entries) {
      if (e.id.equals(change) && e.live()) {
        e.close(Change.State.EXPLAINED, "A fault of the gauge, by evidence: " + why, nowMs);
      }
    }
  }

  /**
   * Somebody worked on a gauge: what it alone felt about then is explained, however late the work
   * is written down; what it felt at another time is not.
   *
   * @param fromMs a change that began earlier is another thing, source's time
   * @param toMs one that began later likewise
   */
  public void workedOn(String gauge, String what, long fromMs, long toMs, long nowMs) {
    for (Entry e : entries) {
      boolean then = e.onsetMs >= fromMs && e.onsetMs <= toMs;
      if (e.live() && then && e.feltOnlyBy(gauge)) {
        e.close(Change.State.EXPLAINED, "Work on " + gauge + " was logged: " + what, nowMs);
      }
    }
  }

  /** All changes that are kept, oldest first. */
  public List<Change> changes() {
    return those(e -> true);
  }

  /** The open ones, oldest first. */
  public List<Change> open() {
    return those(Entry::open);
  }

  /** Those that are live, or were closed at or after a time of the log. */
  public List<Change> since(long closedFromMs) {
    return those(e -> e.live() || e.closedMs >= closedFromMs);
  }

  /** Asked at every moment, and mostly there are none. */
  private List<Change> those(Predicate<Entry> which) {
    return entries.isEmpty()
        ? List.of()
        : entries.stream().filter(which).map(Entry::change).toList();
  }

  /**
   * The well was closed further: from now on a level says nothing of what was lost before, so that
   * only an explanation closes a change.
   */
  public void stepped() {
    entries.stream().filter(Entry::live).forEach(Entry::loseMeasure);
  }

  /** Says what speaks for and against each hypothesis of a change. */
  public void weigh(String change, List<Hypothesis> hypotheses) {
    for (Entry e : entries) {
      if (e.id.equals(change)) {
        e.hypotheses = List.copyOf(hypotheses);
      }
    }
  }
}
