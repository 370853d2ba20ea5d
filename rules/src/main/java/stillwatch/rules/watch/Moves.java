package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The last operations that may have moved the well, in the order of their times. Not thread-safe.
 */
final class Moves {
  private static final int KEPT = 20;

  private final List<Move> newest = new ArrayList<>();

  void accept(Move move) {
    int at = newest.size();
    while (at > 0 && newest.get(at - 1).atMs() > move.atMs()) {
      at--;
    }
    newest.add(at, move);
    if (newest.size() > KEPT) {
      newest.remove(0);
    }
  }

  /** Newest last. */
  List<Move> all() {
    return List.copyOf(newest);
  }

  /** The newest whose stamp can be believed; null when there is none. */
  @Nullable Move last() {
    for (int i = newest.size() - 1; i >= 0; i--) {
      if (newest.get(i).believed()) {
        return newest.get(i);
      }
    }
    return null;
  }
}
