package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * One thing, one word: what people misread stays out of sources, resources and documents. Each
 * pattern names the word to write instead.
 */
class PlainWordsTest {
  private static final Path ROOT = Path.of("..");

  /** What is not written, and what is (glossary: docs/glossary.md). */
  private static final Map<Pattern, String> INSTEAD = new LinkedHashMap<>();

  static {
    not("asks? for somebody", "unacknowledged; needs acknowledgement");
    not("\\bheld back\\b|\\bhold(s|ing)? back\\b", "suppressed, shelved or out of service");
    not("\\bways? out\\b", "notification route");
    not("newest readings", "last readings");
    not("word of the watch", "data from the watch");
    not("twins apart", "difference between twins");
    not("\\bstands? on\\b|\\bon whom it stands\\b", "based on");
    not("told glitching|\\bnot believed\\b|does not believe them", "suspect; ignored");
    not("nobody said", "not recorded; not set");
    not("do not belong together", "Wrong name or password.");
    not(
        "\\bspoke\\b(?!`? `?for)|\\bspoken\\b|speaks again(?!st)",
        "last reading; delivers readings again");
    not("missing now|keeps an even course|kept to a steady course", "a dated level and its rate");
    not("\\bforetold\\b|\\bforetells?\\b", "forecast");
    not("sound explanation", "intact-well explanation");
    not("last done to the well", "last operation on the well");
    not("leads to less than an intact", "extrapolates to less than");
    not("give or take", "\u00b1");
    not("nobody need act", "for information");
    not("no foreseeable time", "no hold point is set");
    not("most manageable", "most an operator can handle");
    not("from here up:", "intact from");
    not("running out at the right", "time increases to the right");
    not("asks nobody who they are", "needs no login");
    not("let be grows", "left alone grows");
    not("what cannot be\\b(?! )", "an impossible value");
    not("such a one", "one that matches");
    not("whatever is killed when", "whichever part is killed, and whenever");
    not("beyond any sense", "an impossible number");
    not("longer than nothing", "longer than zero");
    not("look after the (part|receiver)", "attend to");
    not("it went wrong\\.", "a sentence that can be read alone");
    not("less urgent ones", "of lower priority");
  }

  /** Old migrations never change. */
  private static final List<String> ELSEWHERE =
      List.of("alerts/src/main/resources/stillwatch/journal/");

  private static void not(String pattern, String instead) {
    INSTEAD.put(Pattern.compile(pattern, Pattern.CASE_INSENSITIVE), instead);
  }

  @Test
  void noWordThatIsMisreadIsLeft() throws IOException {
    List<String> found = new ArrayList<>();
    List<Path> files = files();
    assertThat(files).hasSizeGreaterThan(400);
    for (Path file : files) {
      String text = Files.readString(file).replaceAll("\\s*\\n\\s*(\\*|//|\\|)?\\s*", " ");
      INSTEAD.forEach(
          (pattern, instead) -> {
            Matcher m = pattern.matcher(text);
            while (m.find()) {
              found.add(ROOT.relativize(file) + ": '" + m.group() + "'; write: " + instead);
            }
          });
    }
    assertThat(found).isEmpty();
  }

  private static List<Path> files() throws IOException {
    List<Path> files = new ArrayList<>(List.of(ROOT.resolve("README.md")));
    for (String module : List.of("ingest", "rules", "alerts", "station", "bench")) {
      add(ROOT.resolve(module).resolve("src/main"), files);
    }
    add(ROOT.resolve("docs"), files);
    return files;
  }

  private static void add(Path folder, List<Path> files) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      all.filter(Files::isRegularFile)
          .filter(f -> f.toString().matches(".*\\.(java|md|yaml|epl|html|css|js|json|sql|txt)"))
          .filter(f -> !f.toString().contains("uPlot"))
          .filter(f -> ELSEWHERE.stream().noneMatch(ROOT.relativize(f).toString()::startsWith))
          .forEach(files::add);
    }
  }
}
