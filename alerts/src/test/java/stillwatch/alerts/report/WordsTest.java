package stillwatch.alerts.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.LongRange;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Times and spans of the report that people sign. */
class WordsTest {
  private static final DateTimeFormatter SECOND =
      DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm:ss", Locale.ROOT).withZone(ZoneOffset.UTC);
  private static final Pattern SPAN = Pattern.compile("(?:(\\d+) h )?(?:(\\d+) min)?(?:(\\d+) s)?");

  @Property(seed = "20260308")
  void aTimeIsThatSecondAndItsAxisLabelThatMinute(
      @ForAll @LongRange(min = 0, max = 4_102_444_800_000L) long ms) {
    String expected = SECOND.format(Instant.ofEpochMilli(ms));
    assertThat(Words.time(ms)).isEqualTo(expected);
    assertThat(Words.minute(ms)).isEqualTo(expected.substring(5, 16));
  }

  @Property(seed = "20260308")
  void aSpanReadAloudIsTheSpanToItsLastUnit(
      @ForAll @IntRange(min = 0, max = 1_000_000) int seconds) {
    String words = Words.span(seconds);
    Matcher m = SPAN.matcher(words);
    assertThat(m.matches()).as(words).isTrue();
    long said = 3600 * number(m, 1) + 60 * number(m, 2) + number(m, 3);
    long unit = seconds < 120 ? 1 : 60;
    assertThat(seconds - said).as(words).isBetween(0L, unit - 1);
  }

  private static long number(Matcher m, int group) {
    return m.group(group) == null ? 0 : Long.parseLong(m.group(group));
  }

  @ParameterizedTest
  @CsvSource({
    "0, 0 s",
    "119.4, 119 s",
    "119.6, 2 min",
    "3599, 59 min",
    "7199, 1 h 59 min",
    "7200, 2 h 00 min",
    "176700, 49 h 05 min"
  })
  void spansAsPeopleWriteThem(double seconds, String words) {
    assertThat(Words.span(seconds)).isEqualTo(words);
  }
}
