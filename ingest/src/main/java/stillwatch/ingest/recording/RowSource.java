package stillwatch.ingest.recording;

import java.io.IOException;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.GaugeSet;

/** The rows of a file, one after the other. Not thread-safe. */
interface RowSource {
  /** The next row whose time can be read; null at the end. */
  @Nullable Row next() throws IOException;

  /** The gauges, in the layout's order. */
  GaugeSet gauges();

  /** The line that was read last, from 1. */
  long line();
}
