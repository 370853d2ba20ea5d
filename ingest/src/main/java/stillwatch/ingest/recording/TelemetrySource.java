package stillwatch.ingest.recording;

import java.io.IOException;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Telemetry;

/** A finite log of one well, in order. One thread at a time. */
public interface TelemetrySource extends AutoCloseable {
  /** The next entry, or null at the end. */
  @Nullable Telemetry next() throws IOException;

  @Override
  void close() throws IOException;
}
