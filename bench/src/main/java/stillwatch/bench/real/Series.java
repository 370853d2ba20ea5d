package stillwatch.bench.real;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.IntStream;
import java.util.zip.GZIPInputStream;

/**
 * Rows of a recording. The arrays belong to it; nobody changes them.
 *
 * @param name the recording's name
 * @param everyS seconds between rows
 * @param atMs each row's time by the source's clock
 * @param values a column a gauge, Pa; NaN where it said nothing
 * @param labels each row's label by the experts who made the data set; blank where there is none
 */
record Series(
    String name, int everyS, long[] atMs, Map<String, double[]> values, List<String> labels) {
  static final String TREE = "P-TPT";
  static final String DOWNHOLE = "P-PDG";

  /** Reads the two pressures of a recording of the 3W data set. */
  static Series read(Path file) throws IOException {
    List<String[]> rows = new ArrayList<>();
    List<String> header;
    try (BufferedReader in =
        new BufferedReader(
            new InputStreamReader(
                new GZIPInputStream(Files.newInputStream(file)), StandardCharsets.UTF_8))) {
      header = List.of(Objects.requireNonNull(in.readLine(), "no header").split(",", -1));
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        rows.add(line.split(",", -1));
      }
    }
    Map<String, double[]> values = new LinkedHashMap<>();
    for (String gauge : List.of(TREE, DOWNHOLE)) {
      int column = header.indexOf(gauge);
      values.put(gauge, rows.stream().mapToDouble(r -> number(r[column])).toArray());
    }
    int time = header.indexOf("timestamp");
    int label = header.indexOf("class");
    return new Series(
        file.getFileName().toString().replace(".csv.gz", ""),
        1,
        rows.stream().mapToLong(r -> Instant.parse(r[time] + "Z").toEpochMilli()).toArray(),
        values,
        rows.stream().map(r -> r[label]).toList());
  }

  private static double number(String cell) {
    return cell.isEmpty() ? Double.NaN : Double.parseDouble(cell);
  }

  int size() {
    return atMs.length;
  }

  /** A column. */
  double[] of(String gauge) {
    return Objects.requireNonNull(values.get(gauge), gauge);
  }

  /** How long it lasts by the count of its rows, days. */
  double days() {
    return size() * (double) everyS / 86_400;
  }

  /** Every so manieth row. */
  Series every(int rows) {
    return pick(IntStream.range(0, size()).filter(i -> i % rows == 0).toArray(), everyS * rows);
  }

  /** The rows from one up to another. */
  Series part(int from, int to) {
    return pick(IntStream.range(from, to).toArray(), everyS);
  }

  /** The longest stretch from the first row on that the experts call normal. */
  Series quiet() {
    int to = 0;
    while (to < size() && labels.get(to).equals("0")) {
      to++;
    }
    return part(0, to);
  }

  /** Whether the experts say that the downhole valve is closing, or closed, at an instant. */
  boolean closesAt(long instantMs) {
    int row = 0;
    while (row + 1 < size() && atMs[row + 1] <= instantMs) {
      row++;
    }
    return labels.get(row).equals("102") || labels.get(row).equals("2");
  }

  /** The rows before the clock is first set back. */
  Series beforeClockStepsBack() {
    int to = Math.min(1, size());
    while (to < size() && atMs[to] > atMs[to - 1]) {
      to++;
    }
    return part(0, to);
  }

  private Series pick(int[] rows, int every) {
    Map<String, double[]> picked = new LinkedHashMap<>();
    values.forEach(
        (gauge, column) ->
            picked.put(gauge, Arrays.stream(rows).mapToDouble(i -> column[i]).toArray()));
    return new Series(
        name,
        every,
        Arrays.stream(rows).mapToLong(i -> atMs[i]).toArray(),
        picked,
        Arrays.stream(rows).mapToObj(labels::get).toList());
  }

  /** The same rows with other columns. */
  Series with(Map<String, double[]> columns) {
    return new Series(name, everyS, atMs, columns, labels);
  }

  /** As CSV text. */
  String csv() {
    StringBuilder text = new StringBuilder("timestamp," + String.join(",", values.keySet()) + "\n");
    List<double[]> columns = List.copyOf(values.values());
    for (int i = 0; i < size(); i++) {
      text.append(Instant.ofEpochMilli(atMs[i]));
      for (double[] column : columns) {
        text.append(',');
        if (!Double.isNaN(column[i])) {
          text.append(column[i]);
        }
      }
      text.append('\n');
    }
    return text.toString();
  }
}
