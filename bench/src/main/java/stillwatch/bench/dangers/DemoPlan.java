package stillwatch.bench.dangers;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/** The text of the demo plan with what a case changes in it. One thread at a time. */
final class DemoPlan {
  private static final Path FILE = Path.of("demo-data/larkspur/plan.yaml");
  private static final ConcurrentMap<String, Plan> LOADED = new ConcurrentHashMap<>();

  private String text;

  DemoPlan() {
    try {
      text = Files.readString(FILE);
    } catch (IOException e) {
      throw new UncheckedIOException(FILE + ": cannot be read; run bench/detection", e);
    }
  }

  /** Sets a key of one gauge. */
  DemoPlan gauge(String id, String key, String value) {
    Matcher block = block(id);
    String changed =
        block.group().replaceFirst("(?m)^    " + key + ":.*$", "    " + key + ": " + value);
    text = text.substring(0, block.start()) + changed + text.substring(block.end());
    return this;
  }

  /** A further gauge like another. */
  DemoPlan further(String id, String like) {
    Matcher block = block(like);
    String more = block.group().replace("id: " + like, "id: " + id);
    text = text.substring(0, block.end()) + more + text.substring(block.end());
    text = text.replaceFirst("(?m)^    " + like + ": " + like + "$", "$0\n    " + id + ": " + id);
    return this;
  }

  /** Without a gauge. */
  DemoPlan without(String id) {
    Matcher block = block(id);
    text = text.substring(0, block.start()) + text.substring(block.end());
    text = text.replaceFirst("(?m)^    " + id + ": " + id + "\n", "");
    return this;
  }

  /** Sets how long the test is to last. */
  DemoPlan length(String quantity) {
    text = text.replaceFirst("(?m)^  length: .*$", "  length: " + quantity);
    return this;
  }

  /** Without the well's facts: the bands stand as stated and no build-up is forecast. */
  DemoPlan withoutFacts() {
    text = text.replaceFirst("(?ms)^facts:.*?(?=^\\S)", "");
    return this;
  }

  private Matcher block(String id) {
    Matcher block =
        Pattern.compile("(?ms)^  - id: " + id + "$.*?(?=^  - id: |^\\s*$|^\\S)").matcher(text);
    if (!block.find()) {
      throw new IllegalStateException(FILE + ": has no gauge " + id);
    }
    return block;
  }

  /** The text. */
  String text() {
    return text;
  }

  /** The plan, loaded from a temporary file, once for each text. */
  Plan load(RuleBook book) {
    return LOADED.computeIfAbsent(text, t -> read(t, book));
  }

  private static Plan read(String text, RuleBook book) {
    try {
      Path file = Files.createTempFile("stillwatch-dangers", ".yaml");
      try {
        Files.writeString(file, text);
        return PlanLoader.load(file, book.catalogue());
      } finally {
        Files.delete(file);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write a temporary plan", e);
    }
  }
}
