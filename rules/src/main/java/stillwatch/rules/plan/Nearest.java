package stillwatch.rules.plan;

import java.util.Collection;

/**
 * Finds the word somebody probably meant: the nearest by Levenshtein's distance, when near enough.
 */
final class Nearest {
  private Nearest() {}

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
