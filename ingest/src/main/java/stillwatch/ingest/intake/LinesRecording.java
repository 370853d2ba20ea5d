package stillwatch.ingest.intake;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.BufferedReader;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Map;
import java.util.zip.ZipException;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.Recording;
import stillwatch.ingest.recording.RecordingException;
import stillwatch.ingest.recording.RecordingFile;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;

/**
 * A log in the lines that {@code POST /telemetry} takes (NDJSON, plain or packed by gzip). A line
 * that says when it was received is an entry of the log of then; one that says nothing else is a
 * pulse of it. One that does not was received when it is stamped, or with the line before it where
 * that was later, and a pulse comes at each whole second between. A line that cannot be taken is
 * noted and left out. One thread at a time, but {@link #bytesRead()} may be asked from any.
 */
public final class LinesRecording implements Recording {
  private static final long GAP_MS = 24 * 3_600_000L;

  private final Path file;
  private final IntakeWell well;
  private final Problems problems;
  private final RecordingFile bytes;
  private final BufferedReader lines;
  private final LineReader reader;
  private final ArrayDeque<Telemetry> ready = new ArrayDeque<>();
  private long number;
  private long receivedMs = Long.MIN_VALUE;

  private LinesRecording(Path file, IntakeWell well, Problems problems, RecordingFile bytes) {
    this.file = file;
    this.well = well;
    this.problems = problems;
    this.bytes = bytes;
    lines = new BufferedReader(new InputStreamReader(bytes.text(), StandardCharsets.UTF_8));
    reader = new LineReader(Map.of(well.id(), well));
  }

  /**
   * Opens one.
   *
   * @param well whose lines are read
   * @param problems told what is wrong in it
   * @throws RecordingException when it is missing, empty, a folder, or broken
   */
  public static LinesRecording open(Path file, IntakeWell well, Problems problems)
      throws IOException {
    return new LinesRecording(file, well, problems, RecordingFile.open(file));
  }

  @Override
  public @Nullable Telemetry next() throws IOException {
    while (ready.isEmpty()) {
      String line = line();
      if (line == null) {
        return null;
      }
      number++;
      if (!line.isBlank()) {
        take(line);
      }
    }
    return ready.poll();
  }

  private @Nullable String line() throws IOException {
    try {
      return lines.readLine();
    } catch (EOFException | ZipException e) {
      throw new RecordingException(
          file + ": the gzip data breaks off after line " + number + "; copy the file again", e);
    }
  }

  private void take(String line) {
    byte[] text = line.getBytes(StandardCharsets.UTF_8);
    try {
      JsonNode n = LineReader.tree(text);
      boolean stated = n.has("received");
      if (stated && !n.has("at") && n.path("well").asText().equals(well.id())) {
        pass(LineFields.time(n, "received"), true);
        ready.add(new Pulse(well.id(), receivedMs, receivedMs));
        return;
      }
      long atMs = LineFields.time(n, "at");
      long cameMs = stated ? LineFields.time(n, "received") : Math.max(atMs, receivedMs);
      LineReader.Line read = reader.read(text, cameMs, true);
      for (Refusal refusal : read.refused()) {
        note(refusal);
      }
      var entry = read.entry();
      if (entry != null) {
        pass(cameMs, stated);
        ready.add(entry.apply(receivedMs));
      }
    } catch (RefusalException e) {
      note(e.refusal());
    }
  }

  private void note(Refusal refusal) {
    problems.add(
        refusal.reason() == Refusal.Reason.STAMPED_AHEAD
            ? Problems.Sort.STAMPED_AHEAD
            : Problems.Sort.REFUSED,
        file.getFileName()
            + ":"
            + number
            + ": "
            + (refusal.gauge().isEmpty() ? "" : refusal.gauge() + ": ")
            + refusal.why());
  }

  /** Lets log time pass, never backwards. */
  private void pass(long toMs, boolean stated) {
    if (receivedMs != Long.MIN_VALUE && !stated) {
      if (toMs - receivedMs > GAP_MS) {
        problems.add(
            Problems.Sort.LONG_GAP,
            file.getFileName()
                + ":"
                + number
                + ": a gap of "
                + (toMs - receivedMs) / 3_600_000
                + " h");
        ready.add(new Pulse(well.id(), toMs, toMs));
      } else {
        for (long s = Math.floorDiv(receivedMs, 1000) + 1; s * 1000 <= toMs; s++) {
          ready.add(new Pulse(well.id(), s * 1000, s * 1000));
        }
      }
    }
    receivedMs = Math.max(receivedMs, toMs);
  }

  @Override
  public long bytesRead() {
    return bytes.bytesRead();
  }

  @Override
  public long size() {
    return bytes.size();
  }

  @Override
  public void close() throws IOException {
    bytes.close();
  }
}
