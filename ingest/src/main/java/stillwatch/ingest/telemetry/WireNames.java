package stillwatch.ingest.telemetry;

import java.util.Arrays;
import java.util.function.Function;
import java.util.stream.Collectors;

/** Finds the constant with a name on the wire. */
final class WireNames {
  private WireNames() {}

  /**
   * The constant with this name.
   *
   * @param what what the constants are, for people
   * @throws IllegalArgumentException when there is none, naming the known ones
   */
  static <E> E find(String what, String name, E[] all, Function<E, String> wire) {
    return Arrays.stream(all)
        .filter(e -> wire.apply(e).equals(name))
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    "unknown %s '%s'; known are %s"
                        .formatted(
                            what,
                            name,
                            Arrays.stream(all).map(wire).collect(Collectors.joining(", ")))));
  }
}
