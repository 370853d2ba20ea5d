package stillwatch.rules.drill;

import com.fasterxml.jackson.core.JacksonException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonMappingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.PropertyNamingStrategies;
import com.fasterxml.jackson.databind.exc.MismatchedInputException;
import com.fasterxml.jackson.databind.exc.UnrecognizedPropertyException;
import com.fasterxml.jackson.dataformat.yaml.YAMLFactory;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * What happens to an invented well. Times in hours from the start, pressures in kPa, rates as
 * shares of the flowing rate.
 *
 * @param start the first row's time, RFC 3339
 * @param hours how long the recording is
 * @param seed the same seed gives the same bytes
 * @param well the well itself
 * @param steps the closing, and the opening where there is one
 * @param leak a leak, if there is one
 * @param gauges the gauges
 * @param events what happens around the well
 */
public record Scenario(
    String start,
    double hours,
    long seed,
    Well well,
    List<Step> steps,
    @Nullable Leak leak,
    List<Gauge> gauges,
    @Nullable List<Event> events) {

  /**
   * The well.
   *
   * @param finalPressure shut-in wellhead pressure after infinite time, depletion already taken off
   * @param slopePerCycle build-up per log10 cycle
   * @param xHours argument of the exponential integral at one hour
   * @param flowedHours how long it flowed before
   * @param chokeLoss pressure lost over the open outlets at full rate; falls with the square of the
   *     rate
   * @param fillSeconds time constant of the well filling itself (wellbore storage, first order)
   * @param sag how much the cooling column will lose in the end
   * @param sagHours its time constant
   * @param sea ambient pressure at the wellhead
   * @param tideShare the share of the sea's tide that the well feels
   */
  public record Well(
      double finalPressure,
      double slopePerCycle,
      double xHours,
      double flowedHours,
      double chokeLoss,
      double fillSeconds,
      double sag,
      double sagHours,
      double sea,
      double tideShare) {}

  /**
   * A step of the closing or of the opening: from then on the well flows at this share of its rate.
   *
   * @param over how long the outlet is turned, hours: the rate goes there evenly; null for at once
   */
  public record Step(double at, double rate, String text, @Nullable Double over) {}

  /**
   * A leak.
   *
   * @param to {@code rock} (linear above the opening pressure) or {@code sea} (square root of the
   *     difference)
   * @param at when it opens; for rock it opens when the pressure first reaches {@code pressure}
   *     after that
   * @param pressure the pressure outside: the rock's take pressure at the wellhead, or the sea
   * @param size rate share per kPa to rock, per square root of kPa to sea
   * @param growthPerHour share by which it grows an hour
   * @param fastAt when it suddenly gives way further; null when never
   * @param fastSize its size from then on
   */
  public record Leak(
      String to,
      double at,
      double pressure,
      double size,
      double growthPerHour,
      @Nullable Double fastAt,
      @Nullable Double fastSize) {}

  /**
   * A gauge.
   *
   * @param id its column
   * @param senses {@code well}, {@code sea}, {@code temperature}, {@code sound} or {@code tilt}
   * @param every seconds between readings
   * @param offset its fixed error
   * @param noise standard deviation
   * @param step its resolution
   * @param decimals digits written
   * @param faults what goes wrong with it
   */
  public record Gauge(
      String id,
      String senses,
      int every,
      double offset,
      double noise,
      double step,
      int decimals,
      @Nullable List<Fault> faults) {}

  /**
   * What goes wrong with a gauge.
   *
   * @param what {@code drift} (value: per hour), {@code frozen}, {@code dead} (value: what it
   *     shows), {@code silent}, {@code spikes} (value: their height, one in a minute)
   */
  public record Fault(String what, double from, double to, @Nullable Double value) {}

  /**
   * Something around the well.
   *
   * @param what {@code vessel} (sound, dB above background), {@code burst} (rows arrive only at its
   *     end), {@code operation} (text is written to the operation column)
   */
  public record Event(
      String what,
      double from,
      @Nullable Double to,
      @Nullable Double value,
      @Nullable String text) {}

  /** A year: a row a second are 31 million. */
  private static final double MOST_HOURS = 8784;

  private static final ObjectMapper YAML =
      new ObjectMapper(new YAMLFactory())
          .setPropertyNamingStrategy(PropertyNamingStrategies.KEBAB_CASE)
          .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
          .enable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES);

  /**
   * Reads a scenario.
   *
   * @throws DrillException when it cannot be used, with file and line
   */
  public static Scenario read(Path file) {
    try {
      Scenario s = YAML.readValue(Files.readAllBytes(file), Scenario.class);
      if (s == null
          || s.well == null
          || s.gauges == null
          || s.steps == null
          || s.start == null
          || !(s.hours > 0)) {
        throw new DrillException(file + ": needs start, hours, seed, well, steps and gauges");
      }
      if (s.hours > MOST_HOURS) {
        throw new DrillException(
            file + ": hours are " + s.hours + "; a recording has at most " + MOST_HOURS);
      }
      return s;
    } catch (NoSuchFileException e) {
      throw new DrillException(file + ": there is no such file", e);
    } catch (UnrecognizedPropertyException e) {
      throw new DrillException(
          file
              + ":"
              + e.getLocation().getLineNr()
              + ": unknown key '"
              + e.getPropertyName()
              + "'; known here are "
              + e.getKnownPropertyIds(),
          e);
    } catch (MismatchedInputException e) {
      throw misformed(file, e);
    } catch (JacksonException e) {
      int line = e.getLocation() == null ? 1 : e.getLocation().getLineNr();
      throw new DrillException(
          file
              + ":"
              + line
              + ": "
              + e.getOriginalMessage().lines().findFirst().orElse("not readable"),
          e);
    } catch (IOException e) {
      throw new DrillException(file + ": cannot be read: " + e.getMessage(), e);
    }
  }

  private static DrillException misformed(Path file, MismatchedInputException e) {
    String key = e.getPath().stream().map(Scenario::step).collect(Collectors.joining(" "));
    int line = e.getLocation() == null ? 1 : e.getLocation().getLineNr();
    String what = key.isEmpty() ? "the scenario" : "'" + key + "'";
    return new DrillException(
        file + ":" + line + ": " + what + " has not the form that docs/drills.md gives it", e);
  }

  private static String step(JsonMappingException.Reference at) {
    return at.getFieldName() == null ? Integer.toString(at.getIndex() + 1) : at.getFieldName();
  }

  List<Event> around() {
    return events == null ? List.of() : events;
  }
}
