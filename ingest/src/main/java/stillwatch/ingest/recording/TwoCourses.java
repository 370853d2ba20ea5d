package stillwatch.ingest.recording;

/**
 * Where rows go on after a jump of their stamps: on the course they were on before it, or on the
 * new one. Each row is counted to the course that the row before it was on, unless it lies nearer
 * to the other's next stamp by more than a step. Not thread-safe.
 */
final class TwoCourses {
  private final long leftMs;
  private final long stepMs;
  private long oldMs;
  private long newMs;
  private int onOld;
  private int onNew = 1;
  private long backMs = Long.MIN_VALUE;
  private int awayRows;

  /** Whether the row before was on the old course. */
  private boolean old;

  /**
   * Two courses.
   *
   * @param oldMs the last stamp before the jump
   * @param newMs the first stamp after it, which is counted to the new course
   * @param stepMs the usual step from one row to the next
   */
  TwoCourses(long oldMs, long newMs, long stepMs) {
    this.oldMs = oldMs;
    leftMs = oldMs;
    this.newMs = newMs;
    this.stepMs = stepMs;
  }

  /** Takes the stamp of the next row. */
  void add(long ms) {
    long offOldMs = Math.abs(ms - oldMs - stepMs);
    long offNewMs = Math.abs(ms - newMs - stepMs);
    old = old ? offOldMs <= offNewMs + stepMs : offOldMs + stepMs < offNewMs;
    if (old) {
      if (onOld++ == 0) {
        backMs = ms;
        awayRows = onNew;
      }
      oldMs = ms;
    } else {
      onNew++;
      newMs = ms;
    }
  }

  /**
   * Whether the rows were on the new course by mistake: more are on the old one, and it went on
   * while they were away. It did not where the old course is what a source sends after an outage.
   */
  boolean strayed() {
    boolean wentOn = backMs - leftMs >= (awayRows + 1) * stepMs / 2;
    return onOld > onNew && (awayRows < 3 || wentOn);
  }

  /** Whether the new course holds: at least three rows, and more than twice the old one's. */
  boolean clearlyNew() {
    return onNew >= 3 && onNew > 2 * onOld;
  }

  /** The first stamp back on the old course; of no meaning where none is. */
  long backMs() {
    return backMs;
  }
}
