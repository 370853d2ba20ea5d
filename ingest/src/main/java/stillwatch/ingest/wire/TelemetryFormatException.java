package stillwatch.ingest.wire;

/** A message on the log cannot be read as telemetry; the message says why. */
public final class TelemetryFormatException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  TelemetryFormatException(String message) {
    super(message);
  }

  TelemetryFormatException(String message, Throwable cause) {
    super(message, cause);
  }
}
