package stillwatch.rules.finding;

import java.util.List;
import java.util.Locale;

/**
 * One of the four ways to explain a change, with what speaks for and against it. None is dropped
 * without evidence against it.
 *
 * @param cause what would have caused the change
 * @param pro what speaks for it, one short clause each
 * @param con what speaks against it, one short clause each
 */
public record Hypothesis(Cause cause, List<String> pro, List<String> con) {
  /** What can cause a change. */
  public enum Cause {
    WELL,
    GAUGE,
    OPERATION,
    SURROUNDINGS;

    /** The word for people and on the wire. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /** One with its lists kept from changing. */
  public Hypothesis {
    pro = List.copyOf(pro);
    con = List.copyOf(con);
  }
}
