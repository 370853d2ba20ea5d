package stillwatch.ingest.entrance;

import static org.assertj.core.api.Assertions.assertThat;

import java.text.Bidi;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A text beside others: java.text.Bidi lays them out by Unicode Standard Annex 9. */
class TextsTest {
  private static final String AFTER = " 25 s ago";

  private static boolean turned(String text) {
    String line = text + AFTER;
    Bidi bidi = new Bidi(line, Bidi.DIRECTION_LEFT_TO_RIGHT);
    return bidi.getLevelAt(line.length() - 1) > 0;
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "pump",
        "a\u202Eb",
        "a\u202Ab\u202Bc\u202Dd",
        "\u2067x\u202Ey\u2069",
        "\u202Ex\u202C"
      })
  void aTextTurnsNothingRoundThatFollowsIt(String text) {
    assertThat(turned(Texts.closed(text))).isFalse();
    assertThat(Texts.closed(text)).startsWith(text);
    assertThat(turned("a\u202Eb")).as("as it is without").isTrue();
  }
}
