package stillwatch.ingest.bus;

import java.util.List;

/**
 * Appends to one topic for whoever opened it last under its name. One thread at a time.
 *
 * @see Bus#soleWriter
 */
public interface SoleWriter extends AutoCloseable {
  /**
   * Appends all of these, in order per key, or none; returns when the broker has them.
   *
   * @throws BusException when it has not, or somebody else writes under this name now; the writer
   *     is of no use any more
   */
  void write(List<Message> messages);

  @Override
  void close();
}
