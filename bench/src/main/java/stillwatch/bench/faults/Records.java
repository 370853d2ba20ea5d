package stillwatch.bench.faults;

import java.io.Closeable;
import java.io.IOException;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.bus.Bus;

/**
 * The log and the journal that a run has left.
 *
 * @param broker keeps the log readable until it is closed
 */
record Records(Bus bus, Journal journal, Closeable broker) implements AutoCloseable {
  @Override
  public void close() throws IOException {
    journal.close();
    bus.close();
    broker.close();
  }
}
