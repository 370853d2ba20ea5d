package stillwatch.rules.replay;

import java.io.IOException;
import java.nio.file.Path;
import stillwatch.ingest.intake.LinesRecording;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.Recording;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.rules.plan.Plan;

/** Opens recordings of a plan's well. */
public final class PlannedRecording {
  private PlannedRecording() {}

  /** Whether a file of that name holds lines, as {@code log export} writes, and no table. */
  public static boolean ofLines(Path file) {
    return String.valueOf(file.getFileName()).matches(".*\\.ndjson(\\.gz)?");
  }

  /**
   * Opens one: lines where it is named so, else a table of the plan's layout.
   *
   * @param problems told what is wrong in it
   * @throws stillwatch.ingest.recording.RecordingException when it cannot be one
   */
  public static Recording open(Path file, Plan plan, Problems problems) throws IOException {
    return ofLines(file)
        ? LinesRecording.open(file, plan.intake(), problems)
        : RecordingFeed.open(file, plan.recordings(), problems);
  }
}
