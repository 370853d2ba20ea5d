package stillwatch.ingest.recording;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * What stands above the data of a LAS file (Canadian Well Logging Society, LAS Version 2.0: A
 * Digital Standard for Logs). Of its sections only ~Other and those that the standard does not know
 * are passed over.
 */
final class LasHeader {
  private static final String KEPT = "VWCP";

  private final Path file;
  private final LasLines lines;
  private final Map<Character, Map<String, LasItem>> sections = new HashMap<>();
  private final List<LasItem> curves = new ArrayList<>();

  private LasHeader(Path file, LasLines lines) {
    this.file = file;
    this.lines = lines;
  }

  /**
   * Reads one, and the line that opens the data.
   *
   * @throws RecordingException when there is none, with the line and how to mend it
   */
  static LasHeader read(Path file, LasLines lines) throws IOException {
    LasHeader header = new LasHeader(file, lines);
    header.read();
    header.checkVersion();
    if (header.curves.isEmpty()) {
      throw new RecordingException(file + ": has no ~Curve section, which names its columns");
    }
    return header;
  }

  private void read() throws IOException {
    char section = 0;
    for (String text = lines.next(); section != 'A'; text = lines.next()) {
      if (text == null) {
        throw new RecordingException(
            file + ": ends without a ~A section, in which the readings stand; copy it again");
      }
      if (text.charAt(0) == '~') {
        section = text.length() > 1 ? Character.toUpperCase(text.charAt(1)) : '?';
        if (sections.isEmpty() && section != 'V') {
          throw noLas();
        }
        sections.computeIfAbsent(section, s -> new HashMap<>());
        if (section == 'A') {
          return;
        }
      } else if (section == 0) {
        throw noLas();
      } else if (KEPT.indexOf(section) >= 0) {
        keep(section, item(text));
      }
    }
  }

  private RecordingException noLas() {
    return new RecordingException(
        lines.here() + "a LAS file begins with the section ~Version; this is none");
  }

  private LasItem item(String text) {
    try {
      return LasItem.of(text, lines.line());
    } catch (IllegalArgumentException e) {
      throw new RecordingException(lines.here() + e.getMessage(), e);
    }
  }

  private void keep(char section, LasItem item) {
    LasItem before = sections.getOrDefault(section, Map.of()).get(item.key());
    if (section == 'C') {
      if (before != null) {
        throw new RecordingException(
            lines.here()
                + "the curve "
                + item.mnemonic()
                + " stands in line "
                + before.line()
                + " already; give one another name");
      }
      curves.add(item);
    }
    sections.computeIfAbsent(section, s -> new HashMap<>()).putIfAbsent(item.key(), item);
  }

  private void checkVersion() {
    String version = needed('V', "VERS").data();
    if (!version.matches("2(\\.0*)?")) {
      throw new RecordingException(
          "%s: is LAS %s; only 2.0 is read, so save it as that".formatted(file, version));
    }
    Optional<LasItem> delimiter = item('V', "DLM");
    if (delimiter.isPresent() && !delimiter.get().data().matches("(?i)|space|tab")) {
      throw new RecordingException(
          at(delimiter.get()) + "LAS 2.0 has blanks between values; save it with those");
    }
  }

  private LasItem needed(char section, String mnemonic) {
    return item(section, mnemonic)
        .orElseThrow(
            () ->
                new RecordingException(
                    "%s: lacks %s in its section ~%s".formatted(file, mnemonic, section)));
  }

  /** An item of a section, by the section's first letter. */
  Optional<LasItem> item(char section, String mnemonic) {
    return Optional.ofNullable(sections.getOrDefault(section, Map.of()).get(mnemonic));
  }

  /** The item with this mnemonic in ~Well, else in ~Parameter. */
  Optional<LasItem> said(String mnemonic) {
    return item('W', mnemonic).or(() -> item('P', mnemonic));
  }

  /** The columns of the data, the index first. */
  List<LasItem> curves() {
    return curves;
  }

  /** The column with this mnemonic, in capitals or not; -1 where there is none. */
  int column(@Nullable String mnemonic) {
    for (int i = 0; mnemonic != null && i < curves.size(); i++) {
      if (curves.get(i).is(mnemonic)) {
        return i;
      }
    }
    return -1;
  }

  /** Whether a row of the data takes several lines. */
  boolean wrapped() {
    LasItem wrap = needed('V', "WRAP");
    if (!wrap.data().matches("(?i)yes|no")) {
      throw new RecordingException(at(wrap) + "WRAP is YES or NO, not '" + wrap.data() + "'");
    }
    return wrap.data().equalsIgnoreCase("yes");
  }

  /** The number that says that there is no value. */
  double none() {
    LasItem none = needed('W', "NULL");
    try {
      return Double.parseDouble(none.data());
    } catch (NumberFormatException e) {
      throw new RecordingException(
          at(none) + "NULL must be a number like -999.25, not '" + none.data() + "'", e);
    }
  }

  /** An item's place, to begin a sentence with. */
  String at(LasItem item) {
    return lines.at(item.line());
  }
}
