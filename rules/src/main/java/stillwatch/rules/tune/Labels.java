package stillwatch.rules.tune;

import java.io.IOException;
import java.nio.charset.MalformedInputException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.RuleEntry;

/** Reads labels: CSV with the columns recording, from, to, what, gauges. */
public final class Labels {
  private static final String HEADER = "recording,from,to,what,gauges";

  private Labels() {}

  /**
   * Reads a file.
   *
   * @throws LabelException when it cannot be used, naming every wrong line
   */
  public static List<Label> read(Path file, Catalogue catalogue) {
    List<String> lines = lines(file);
    if (lines.isEmpty() || !lines.get(0).strip().equals(HEADER)) {
      throw new LabelException(file + ":1: the first line must be " + HEADER);
    }
    Set<String> words = words(catalogue);
    List<Label> labels = new ArrayList<>();
    List<String> faults = new ArrayList<>();
    for (int i = 1; i < lines.size(); i++) {
      if (!lines.get(i).isBlank()) {
        try {
          labels.add(label(lines.get(i).split(",", -1), words));
        } catch (DateTimeException e) {
          faults.add(file + ":" + (i + 1) + ": " + e.getMessage());
        }
      }
    }
    if (!faults.isEmpty()) {
      throw new LabelException(String.join("\n", faults));
    }
    return labels;
  }

  private static List<String> lines(Path file) {
    try {
      return Files.readAllLines(file);
    } catch (NoSuchFileException e) {
      throw new LabelException(file + ": there is no such file", e);
    } catch (MalformedInputException e) {
      throw new LabelException(file + ": is no UTF-8 text; labels are a CSV file", e);
    } catch (IOException e) {
      throw new LabelException(file + ": cannot be read: " + e.getMessage(), e);
    }
  }

  private static Label label(String[] cells, Set<String> words) {
    if (cells.length < 4) {
      throw new DateTimeException("needs recording, from, to and what");
    }
    Instant from = time(cells[1].strip());
    Instant to = time(cells[2].strip());
    String what = cells[3].strip();
    if (!from.isBefore(to)) {
      throw new DateTimeException("'from' must be before 'to'");
    }
    if (!words.contains(what)) {
      throw new DateTimeException(
          "no rule knows the happening '" + what + "'; known are " + String.join(", ", words));
    }
    return new Label(cells[0].strip(), from.toEpochMilli(), to.toEpochMilli(), what);
  }

  private static Instant time(String text) {
    try {
      return Instant.parse(text);
    } catch (DateTimeException e) {
      throw new DateTimeException("'" + text + "' is no time like 2026-03-01T06:00:00Z", e);
    }
  }

  private static Set<String> words(Catalogue catalogue) {
    Set<String> words = new TreeSet<>();
    for (RuleEntry rule : catalogue.rules()) {
      words.addAll(rule.sees().keySet());
      words.addAll(rule.excused());
    }
    return words;
  }
}
