package stillwatch.ingest.recording;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiConsumer;

/**
 * What was wrong in a recording: a count of each sort and the first few sentences, never more. Not
 * thread-safe.
 */
public final class Problems {
  private static final int TOLD = 3;

  private final Map<Sort, Long> counts = new EnumMap<>(Sort.class);
  private final Map<Sort, List<String>> first = new EnumMap<>(Sort.class);
  private final BiConsumer<Sort, String> told;

  /** Keeps them. */
  public Problems() {
    this((sort, sentence) -> {});
  }

  /**
   * Keeps them, and tells each at once.
   *
   * @param told takes its sort and the sentence
   */
  public Problems(BiConsumer<Sort, String> told) {
    this.told = told;
  }

  /** The sorts of problem. */
  public enum Sort {
    BAD_TIME("rows whose time cannot be read, left out"),
    BAD_NUMBER("cells that are no number, left out"),
    BAD_QUALITY("qualities that are not understood, taken as bad"),
    SHORT_ROW("rows with fewer cells than the header"),
    LONG_ROW("rows with more cells than the header, the rest left out"),
    BROKEN_WRAP("wrapped rows with lines lacking or too many; nothing is read from there on"),
    UNKNOWN_GAUGE("rows of a gauge that the plan does not map, left out"),
    BAD_OPERATION("operations that are not understood, left out"),
    OUTSIDE("operations from before the recording begins or after it ends, left out"),
    OUT_OF_ORDER("rows earlier than the row before; ignored, and counted"),
    SAME_TIME("rows with the same time as the row before; the watch believes the first"),
    STAMPED_AHEAD("rows stamped far ahead of the rows around them; log time does not follow them"),
    SET_BACK("places where the clock was set back; log time goes on"),
    REFUSED("lines that say nothing that can be taken, left out"),
    LONG_GAP("gaps of more than 24 h, passed over in one step");

    private final String text;

    Sort(String text) {
      this.text = text;
    }
  }

  /** Notes one. */
  public void add(Sort sort, String sentence) {
    counts.merge(sort, 1L, Long::sum);
    List<String> kept = first.computeIfAbsent(sort, s -> new ArrayList<>());
    if (kept.size() < TOLD) {
      kept.add(sentence);
    }
    told.accept(sort, sentence);
  }

  /** How many of a sort. */
  public long count(Sort sort) {
    return counts.getOrDefault(sort, 0L);
  }

  /** For people: each sort's count, then its first few sentences, indented. */
  public List<String> report() {
    List<String> lines = new ArrayList<>();
    for (Map.Entry<Sort, Long> e : counts.entrySet()) {
      lines.add(String.format("%,d %s", e.getValue(), e.getKey().text));
      first.getOrDefault(e.getKey(), List.of()).forEach(s -> lines.add("  " + s));
    }
    return lines;
  }
}
