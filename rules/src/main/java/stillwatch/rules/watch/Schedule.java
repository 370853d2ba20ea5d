package stillwatch.rules.watch;

import stillwatch.ingest.telemetry.Decision;
import stillwatch.rules.plan.TestPlan;

/**
 * When the deciders meet next and when the test is over, both from when the well began to be
 * watched shut in. Not thread-safe.
 */
final class Schedule {
  /** From so long before the end of the test a decision to continue is about that end. */
  private static final long ABOUT_THE_END_MS = 3_600_000;

  private final TestPlan plan;
  private long fromMs = Long.MIN_VALUE;
  private long holdPointMs = Long.MAX_VALUE;
  private long extendedMs = Long.MIN_VALUE;

  Schedule(TestPlan plan) {
    this.plan = plan;
  }

  /** The well is watched shut in from here. */
  void begin(long atMs) {
    fromMs = atMs;
    extendedMs = Long.MIN_VALUE;
    holdPointMs = atMs + plan.holdPointEvery().toMillis();
  }

  /** The well is no longer shut in; a hold point that was set stays until somebody decides. */
  void stop() {
    fromMs = Long.MIN_VALUE;
  }

  /** Takes a decision at this log time. */
  void accept(Decision decision, long nowMs) {
    boolean extended = decision.choice() == Decision.Choice.EXTEND;
    if (!extended && decision.choice() != Decision.Choice.CONTINUE) {
      holdPointMs = Long.MAX_VALUE;
      return;
    }
    long everyMs = plan.holdPointEvery().toMillis();
    holdPointMs = decision.nextReviewMs() > 0 ? decision.nextReviewMs() : nowMs + everyMs;
    if (running() && extended) {
      extendedMs = Math.max(endMs() + everyMs, holdPointMs);
    } else if (running() && nowMs >= endMs() - ABOUT_THE_END_MS) {
      extendedMs = Math.max(extendedMs, holdPointMs);
    }
  }

  /** Whether the well is watched shut in. */
  boolean running() {
    return fromMs != Long.MIN_VALUE;
  }

  /** Since when the well is watched shut in; {@link Long#MIN_VALUE} while it is not. */
  long fromMs() {
    return fromMs;
  }

  /** When the next hold point is; {@link Long#MAX_VALUE} when none is set. */
  long holdPointMs() {
    return holdPointMs;
  }

  /**
   * When the test is over: after the plan's length, or at the review to which the deciders, asked
   * about the end, put it off; {@link Long#MAX_VALUE} while it does not run.
   */
  long endMs() {
    return running() ? Math.max(extendedMs, fromMs + plan.length().toMillis()) : Long.MAX_VALUE;
  }
}
