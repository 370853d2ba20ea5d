package stillwatch.rules.watch;

import org.jspecify.annotations.Nullable;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;

/**
 * The on-delay and off-delay of one rule about one subject (ISA-18.2): the condition must hold for
 * {@code holdMs} before it is raised, and be over for {@code releaseMs} before it has returned.
 * Between beyond and normal the state is kept, so a moment without knowledge breaks no timing.
 * Delays are counted from the onset, which a rule may know to lie before the moment it could first
 * see it.
 */
final class Gate {
  /** What changed. */
  enum Change {
    NONE,
    RAISED,
    RETURNED
  }

  private final long holdMs;
  private final long releaseMs;
  private boolean pending;
  private long onsetMs;
  private boolean over;
  private long overSinceMs;
  private @Nullable Priority priority;
  private @Nullable Finding raised;

  Gate(long holdMs, long releaseMs) {
    this.holdMs = holdMs;
    this.releaseMs = releaseMs;
  }

  Change judge(long timeMs, boolean beyond, boolean normal, long onset) {
    if (priority != null) {
      if (!normal) {
        over = false;
        return Change.NONE;
      }
      if (!over) {
        over = true;
        overSinceMs = timeMs;
      }
      return timeMs - overSinceMs >= releaseMs ? Change.RETURNED : Change.NONE;
    }
    if (normal && !beyond) {
      pending = false;
    } else if (beyond && !pending) {
      pending = true;
      onsetMs = onset;
    }
    return pending && beyond && timeMs - onsetMs >= holdMs ? Change.RAISED : Change.NONE;
  }

  /** When the condition now pending or raised began. */
  long onsetMs() {
    return onsetMs;
  }

  void raised(Finding finding) {
    raised = finding;
    raised(finding.priority());
  }

  /** Raised at that priority, where nobody keeps the finding. */
  void raised(Priority at) {
    priority = at;
    over = false;
  }

  /** The priority at which it is raised; null when it is not. */
  @Nullable Priority priority() {
    return priority;
  }

  @Nullable Finding raised() {
    return raised;
  }

  void returned() {
    raised = null;
    priority = null;
    pending = false;
    over = false;
  }
}
