package stillwatch.rules.watch;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import stillwatch.rules.plan.Nearest;

/** The phases of a plan, and which of them a typed name means. Immutable. */
final class Phases {
  private final List<String> names;
  private final Map<String, String> byKey = new LinkedHashMap<>();

  Phases(List<String> names) {
    this.names = names;
    names.forEach(n -> byKey.put(key(n), n));
  }

  /** The plan's name for a typed one; empty when none is meant for certain. */
  Optional<String> meant(String typed) {
    return Nearest.sure(key(typed), byKey.keySet()).map(byKey::get);
  }

  private static String key(String name) {
    return name.toLowerCase(Locale.ROOT).replaceAll("[\\s_-]", "");
  }

  /** The phase that holds from the start; empty text where the plan has none. */
  String first() {
    return names.isEmpty() ? "" : names.get(0);
  }

  /** The phase of watching a well that is shut in: the last. */
  String last() {
    return names.isEmpty() ? "" : names.get(names.size() - 1);
  }

  /** The phase of closing: the one before the last, where there are two or more. */
  String closing() {
    return names.size() < 2 ? first() : names.get(names.size() - 2);
  }

  /** Whether one phase comes before another. */
  boolean before(String one, String other) {
    return names.indexOf(one) < names.indexOf(other);
  }

  /** Whether there is no phase to go on to. */
  boolean single() {
    return names.size() <= 1;
  }

  @Override
  public String toString() {
    return String.join(", ", names);
  }
}
