package stillwatch.rules.watch;

import org.jspecify.annotations.Nullable;
import stillwatch.rules.book.Priority;
import stillwatch.rules.engine.Verdict;
import stillwatch.rules.finding.Finding;

/**
 * The on-delay and off-delay of one rule about one subject (ISA-18.2): the condition must hold for
 * {@code holdMs} before it is raised, and be over for {@code releaseMs} before it has returned.
 * Between beyond and normal the state is kept, so a moment without knowledge breaks no timing.
 * Delays are counted from the onset, which a rule may know to lie before the moment it could first
 * see it. What is raised and becomes more urgent is raised again at its new priority, and what has
 * grown to three times the size it was raised at is raised again as a new fact; it never becomes
 * less urgent.
 */
final class Gate {
  /** What changed. */
  enum Change {
    NONE,
    RAISED,
    ESCALATED,
    RETURNED
  }

  private static final double OUTGROWN = 3;

  private final long holdMs;
  private final long releaseMs;
  private final Priority catalogued;
  private boolean pending;
  private long onsetMs;
  private int escalations;
  private boolean over;
  private long overSinceMs;
  private @Nullable Priority priority;
  private double size = Double.NaN;
  private @Nullable Finding finding;

  Gate(long holdMs, long releaseMs, Priority catalogued) {
    this.holdMs = holdMs;
    this.releaseMs = releaseMs;
    this.catalogued = catalogued;
  }

  /** Whether the condition neither holds nor has been raised. */
  boolean idle() {
    return priority == null && !pending;
  }

  Change judge(Verdict verdict) {
    long timeMs = verdict.timeMs();
    boolean beyond = verdict.beyond();
    boolean normal = verdict.normal();
    return priority == null
        ? idle(verdict, timeMs, beyond, normal)
        : raised(priority, verdict, timeMs, beyond, normal);
  }

  private Change idle(Verdict verdict, long timeMs, boolean beyond, boolean normal) {
    if (normal && !beyond) {
      pending = false;
    } else if (beyond && !pending) {
      pending = true;
      onsetMs = verdict.onsetMs() >= 0 ? verdict.onsetMs() : timeMs;
    }
    if (!pending || !beyond || timeMs - onsetMs < holdMs) {
      return Change.NONE;
    }
    priority = verdict.priorityOr(catalogued);
    size = verdict.size();
    escalations = 0;
    over = false;
    return Change.RAISED;
  }

  private Change raised(
      Priority before, Verdict verdict, long timeMs, boolean beyond, boolean normal) {
    if (normal && !over) {
      overSinceMs = timeMs;
    }
    over = normal;
    if (over && timeMs - overSinceMs >= releaseMs) {
      priority = null;
      pending = false;
      over = false;
      return Change.RETURNED;
    }
    Priority now = verdict.priorityOr(catalogued);
    boolean outgrown = verdict.size() > OUTGROWN * size;
    if (!beyond || (now.compareTo(before) <= 0 && !outgrown)) {
      return Change.NONE;
    }
    priority = now.compareTo(before) > 0 ? now : before;
    size = Double.isNaN(verdict.size()) ? size : verdict.size();
    escalations++;
    over = false;
    return Change.ESCALATED;
  }

  /** How often it has become worse since it was raised. */
  int escalations() {
    return escalations;
  }

  /** When the condition now pending or raised began. */
  long onsetMs() {
    return onsetMs;
  }

  /** Keeps what was made of the last raising. */
  void keep(Finding made) {
    finding = made;
  }

  /** What was made of the last raising; null where nobody keeps it. */
  @Nullable Finding finding() {
    return finding;
  }
}
