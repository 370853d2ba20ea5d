package stillwatch.station;

import java.net.URI;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.function.Function;
import picocli.CommandLine;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.TypeConversionException;

/** Reads the values of options, and says of a wrong one in plain words what it must be. */
final class PlainValues {
  private PlainValues() {}

  static void register(CommandLine line) {
    ITypeConverter<Double> number = of(Double::valueOf, "a number, for example 60 or 2.5");
    ITypeConverter<Integer> whole = of(Integer::valueOf, "a whole number, for example 120");
    ITypeConverter<Instant> moment =
        of(Instant::parse, "a moment in UTC, for example 2026-03-08T11:20:00Z");
    line.registerConverter(Double.class, number);
    line.registerConverter(double.class, number);
    line.registerConverter(Integer.class, whole);
    line.registerConverter(int.class, whole);
    line.registerConverter(Instant.class, moment);
    line.registerConverter(long.class, of(Long::valueOf, "a whole number, for example 120"));
    line.registerConverter(
        URI.class, of(URI::create, "an address, for example http://127.0.0.1:8480/health"));
  }

  private static <T> ITypeConverter<T> of(Function<String, T> read, String must) {
    return text -> {
      try {
        return read.apply(text);
      } catch (IllegalArgumentException | DateTimeException e) {
        throw new TypeConversionException("'" + text + "' is not " + must);
      }
    };
  }
}
