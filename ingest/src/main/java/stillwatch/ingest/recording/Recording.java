package stillwatch.ingest.recording;

/**
 * A log that is read from a file. One thread at a time, but how far it is may be asked from any.
 */
public interface Recording extends TelemetrySource {
  /** Bytes of the file read so far. */
  long bytesRead();

  /** Bytes in the file. */
  long size();
}
