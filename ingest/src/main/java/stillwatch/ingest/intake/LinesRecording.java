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
import stillwatch.ingest.recording.LogTime;
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
  private final Path file;
  private final IntakeWell well;
  private final Problems problems;
  private final RecordingFile bytes;
  private final BufferedReader lines;
  private final LineReader reader;
  private final ArrayDeque<Telemetry> ready = new ArrayDeque<>();
  private final LogTime time;
  private long number;

  private LinesRecording(Path file, IntakeWell well, Problems problems, RecordingFile bytes) {
    this.file = file;
    this.well = well;
    this.problems = problems;
    this.bytes = bytes;
    lines = new BufferedReader(new InputStreamReader(bytes.text(), StandardCharsets.UTF_8));
    time = new LogTime(well.id(), ready::add, problems);
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
        ready.add(new Pulse(well.id(), time.ms(), time.ms()));
        return;
      }
      long atMs = LineFields.time(n, "at");
      long cameMs = stated ? LineFields.time(n, "received") : Math.max(atMs, time.ms());
      LineReader.Line read = reader.read(text, cameMs, true);
      for (Refusal refusal : read.refused()) {
        note(refusal);
      }
      var entry = read.entry();
      if (entry != null) {
        pass(cameMs, stated);
        ready.add(entry.apply(time.ms()));
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
        here() + (refusal.gauge().isEmpty() ? "" : refusal.gauge() + ": ") + refusal.why());
  }

  private void pass(long toMs, boolean stated) {
    if (stated) {
      time.stated(toMs);
    } else {
      time.passTo(toMs, this::here);
    }
  }

  private String here() {
    return file.getFileName() + ":" + number + ": ";
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
