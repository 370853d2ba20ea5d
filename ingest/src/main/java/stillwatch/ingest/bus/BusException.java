package stillwatch.ingest.bus;

import org.jspecify.annotations.Nullable;

/** The broker cannot be used; the message says what to check. */
public final class BusException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  BusException(String message, @Nullable Throwable cause) {
    super(message, cause);
  }
}
