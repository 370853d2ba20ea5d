package stillwatch.fieldbus;

import java.net.URI;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.door.SourceReading;

/** Where a server is, as a plan says it. */
public final class Address {
  private Address() {}

  /**
   * Reads one; null where it is none, and the plan is told.
   *
   * @param example how one is written
   */
  public static @Nullable URI of(String text, String example, SourceReading plan) {
    try {
      URI server = URI.create(text);
      if (server.getHost() != null) {
        return server;
      }
    } catch (IllegalArgumentException e) {
      // told below
    }
    plan.fault("/server", "'" + text + "' is no address; write it like " + example);
    return null;
  }
}
