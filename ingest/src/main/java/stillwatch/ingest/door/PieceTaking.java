package stillwatch.ingest.door;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.intake.Refusal;
import stillwatch.ingest.intake.Refusal.Reason;
import stillwatch.ingest.recording.Piece;
import stillwatch.ingest.recording.Problems.Sort;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.telemetry.Frame;

/**
 * Gives the rows of a piece to an inlet. A row with more or fewer cells than the header has been
 * broken off, or written into another, and is refused whole. Not thread-safe.
 */
final class PieceTaking implements Piece.Taking {
  private static final Map<Sort, Reason> REASONS =
      new EnumMap<>(
          Map.of(
              Sort.BAD_TIME, Reason.BAD_TIME,
              Sort.BAD_NUMBER, Reason.BAD_VALUE,
              Sort.BAD_QUALITY, Reason.BAD_VALUE,
              Sort.SHORT_ROW, Reason.INCOMPLETE,
              Sort.LONG_ROW, Reason.INCOMPLETE,
              Sort.UNKNOWN_GAUGE, Reason.UNKNOWN_GAUGE,
              Sort.BAD_OPERATION, Reason.NOT_ALLOWED));

  private final Piece piece;
  private final Inlet inlet;
  private final Map<String, String> units = new HashMap<>();
  private final List<CompletableFuture<Void>> kept = new ArrayList<>();
  private long broken = -1;

  PieceTaking(Piece piece, RecordingLayout layout, Inlet inlet) {
    this.piece = piece;
    this.inlet = inlet;
    layout.columns().forEach(c -> units.put(c.gauge(), c.kind().baseUnit()));
  }

  @Override
  public void row(long line, long atMs, @Nullable Frame frame) {
    if (frame != null && line != broken) {
      kept.add(inlet.take(frame, units));
    }
  }

  @Override
  public void wrong(long line, Sort sort, String why) {
    if (sort == Sort.SHORT_ROW || sort == Sort.LONG_ROW) {
      broken = line;
    } else if (line == broken) {
      return; // told already
    }
    kept.add(
        inlet.refuse(
            LoggedFile.line(piece.lines(), line - piece.before() - 1),
            Refusal.ofLine(REASONS.getOrDefault(sort, Reason.BAD_VALUE), why)));
  }

  /** Done when all of it is kept, the refused among the rejects. */
  CompletableFuture<Void> kept() {
    return CompletableFuture.allOf(kept.toArray(CompletableFuture[]::new));
  }
}
