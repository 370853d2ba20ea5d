package stillwatch.ingest.recording;

import java.io.IOException;

/**
 * When the rows of a recording were received. A row that states it is believed. Of the others each
 * is taken to have been received when it is stamped, as long as the stamps go on; where they jump,
 * the rows that follow tell what happened:
 *
 * <ul>
 *   <li>forward, and most of the next rows are back on the old course, which went on meanwhile: the
 *       row is stamped wrong, and reception goes on by the usual step;
 *   <li>forward, and the next rows go on from there: nothing came for so long;
 *   <li>backward, and most of the next rows are back, or the stamp lies in a stretch that no row
 *       has filled: the row came late, and reception stands still;
 *   <li>backward, and the next rows go on from there: the clock was set back, and reception goes
 *       on.
 * </ul>
 *
 * Steps of at most a minute, or three usual steps where that is longer, are no jumps. Reception
 * never decreases. Constant memory. Not thread-safe.
 */
final class ReceptionTimes {
  /** How many rows it wants to see after a jump. */
  static final int AHEAD = 512;

  private static final long NO_JUMP_MS = 60_000;
  private static final int STEPS_WANTED = 8;

  private final String where;
  private final Problems problems;
  private final UsualStep usual = new UsualStep();
  private final Gaps gaps = new Gaps();
  private long nowMs = Long.MIN_VALUE;

  /** What the clock of the rows lags behind reception, since it was set back. */
  private long lagMs;

  /** The rows that follow the present one, as many as are wanted and there are. */
  interface RowsAhead {
    Iterable<Row> rows() throws IOException;
  }

  /**
   * Times that tell of wrong stamps.
   *
   * @param where the file, put before the line in what is told
   */
  ReceptionTimes(String where, Problems problems) {
    this.where = where;
    this.problems = problems;
  }

  /** The time of reception of the next row, ms since 1970 UTC. */
  long of(Row row, RowsAhead following) throws IOException {
    if (row.receivedMs() != Row.UNSTATED) {
      nowMs = Math.max(nowMs, row.receivedMs());
      return nowMs;
    }
    if (nowMs == Long.MIN_VALUE) {
      nowMs = first(row, following);
      return nowMs;
    }
    long stepMs = row.atMs() + lagMs - nowMs;
    if (isJump(stepMs, following)) {
      nowMs = jumped(row, stepMs, following);
    } else if (stepMs > 0) {
      usual.add(stepMs);
      nowMs += stepMs;
    }
    return nowMs;
  }

  private boolean isJump(long stepMs, RowsAhead following) throws IOException {
    long size = Math.abs(stepMs);
    return size > NO_JUMP_MS && size > 3 * usualMs(following);
  }

  private long usualMs(RowsAhead following) throws IOException {
    if (usual.known() >= STEPS_WANTED) {
      return usual.ms();
    }
    UsualStep soon = new UsualStep();
    long beforeMs = Long.MAX_VALUE;
    for (Row row : following.rows()) {
      if (row.atMs() > beforeMs) {
        soon.add(row.atMs() - beforeMs);
      }
      beforeMs = row.atMs();
    }
    return soon.known() > usual.known() ? soon.ms() : usual.ms();
  }

  /** The first row starts the time, unless all that follow say that it is stamped ahead. */
  private long first(Row row, RowsAhead following) throws IOException {
    TwoCourses courses = null;
    long startMs = row.atMs();
    long beforeMs = row.atMs();
    for (Row next : following.rows()) {
      if (next.receivedMs() != Row.UNSTATED) {
        return row.atMs();
      }
      if (next.atMs() == beforeMs) {
        continue;
      }
      beforeMs = next.atMs();
      if (courses == null) {
        startMs = next.atMs();
        if (startMs >= row.atMs() || !isJump(startMs - row.atMs(), following)) {
          return row.atMs();
        }
        courses = new TwoCourses(row.atMs(), startMs, usualMs(following));
      } else {
        courses.add(next.atMs());
      }
    }
    if (courses == null || !courses.clearlyNew()) {
      return row.atMs();
    }
    wrong(row, row.atMs() - startMs);
    return startMs;
  }

  private long jumped(Row row, long stepMs, RowsAhead following) throws IOException {
    if (lagMs != 0 && !isJump(row.atMs() - nowMs, following)) {
      lagMs = 0; // the clock was set right again
      return Math.max(nowMs, row.atMs());
    }
    if (stepMs < 0 && gaps.hold(row.atMs() + lagMs)) {
      return nowMs;
    }
    long usualMs = usualMs(following);
    TwoCourses courses = courses(row, following, usualMs);
    return stepMs > 0
        ? forward(row, stepMs, courses, usualMs)
        : backward(row, stepMs, courses, usualMs);
  }

  private TwoCourses courses(Row row, RowsAhead following, long usualMs) throws IOException {
    TwoCourses courses = new TwoCourses(nowMs, row.atMs() + lagMs, usualMs);
    long beforeMs = row.atMs();
    for (Row next : following.rows()) {
      if (next.receivedMs() == Row.UNSTATED && next.atMs() != beforeMs) {
        courses.add(next.atMs() + lagMs);
      }
      beforeMs = next.atMs();
    }
    return courses;
  }

  private long forward(Row row, long stepMs, TwoCourses courses, long usualMs) {
    if (courses.strayed()) {
      wrong(row, stepMs);
      return Math.max(nowMs, Math.min(nowMs + usualMs, courses.backMs()));
    }
    gaps.add(nowMs, nowMs + stepMs);
    return nowMs + stepMs;
  }

  private long backward(Row row, long stepMs, TwoCourses courses, long usualMs) {
    if (!courses.clearlyNew()) {
      return nowMs;
    }
    lagMs += usualMs - stepMs;
    problems.add(
        Problems.Sort.SET_BACK, where + row.line() + ": by " + (usualMs - stepMs) / 1000.0 + " s");
    return nowMs + usualMs;
  }

  private void wrong(Row row, long byMs) {
    problems.add(
        Problems.Sort.STAMPED_AHEAD, where + row.line() + ": " + byMs / 1000.0 + " s ahead");
  }
}
