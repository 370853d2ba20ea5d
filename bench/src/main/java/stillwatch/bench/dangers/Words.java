package stillwatch.bench.dangers;

import java.util.List;

/** The words of a command line. */
record Words(List<String> all) {
  boolean has(String option) {
    return all.contains(option);
  }

  /** The word after an option, or another where the option is not there. */
  String text(String option, String otherwise) {
    int at = all.indexOf(option);
    return at >= 0 && at + 1 < all.size() ? all.get(at + 1) : otherwise;
  }

  /** The number after an option. */
  int number(String option, int otherwise) {
    return Integer.parseInt(text(option, String.valueOf(otherwise)));
  }

  /** Whether a number is to be run: the option names it, or is not there. */
  boolean takes(String option, int number) {
    return number(option, number) == number;
  }
}
