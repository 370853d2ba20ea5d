package stillwatch.rules.plan;

import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Finds the word somebody meant: the nearest by Levenshtein's distance, when near enough. Safe from
 * any thread.
 */
public final class Nearest {
  private Nearest() {}

  /**
   * The word that is meant for certain: the same, or one a few letters off (a third of them at
   * most) while every other is at least two letters further off.
   */
  public static Optional<String> sure(String word, Collection<String> known) {
    List<String> nearest =
        known.stream().sorted(Comparator.comparingInt(k -> distance(word, k))).toList();
    if (nearest.isEmpty()) {
      return Optional.empty();
    }
    int off = distance(word, nearest.get(0));
    boolean alone = nearest.size() == 1 || distance(word, nearest.get(1)) >= off + 2;
    return off == 0 || (off <= Math.max(1, word.length() / 3) && alone)
        ? Optional.of(nearest.get(0))
        : Optional.empty();
  }

  /** {@code "; did you mean 'x'?"}, or nothing when no word is near. */
  static String hint(String word, Collection<String> known) {
    String best = "";
    int least = Math.max(2, word.length() / 3) + 1;
    for (String k : known) {
      int d = distance(word, k);
      if (d < least) {
        least = d;
        best = k;
      }
    }
    return best.isEmpty() ? "" : "; did you mean '" + best + "'?";
  }

  private static int distance(String a, String b) {
    int[] row = new int[b.length() + 1];
    for (int j = 0; j <= b.length(); j++) {
      row[j] = j;
    }
    for (int i = 1; i <= a.length(); i++) {
      int diagonal = row[0];
      row[0] = i;
      for (int j = 1; j <= b.length(); j++) {
        int above = row[j];
        int change = a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1;
        row[j] = Math.min(Math.min(row[j] + 1, row[j - 1] + 1), diagonal + change);
        diagonal = above;
      }
    }
    return row[b.length()];
  }
}
