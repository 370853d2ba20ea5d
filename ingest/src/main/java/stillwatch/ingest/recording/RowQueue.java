package stillwatch.ingest.recording;

import java.io.EOFException;
import java.io.IOException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.zip.ZipException;
import org.jspecify.annotations.Nullable;

/**
 * The rows of a recording, one after the other, with a look at those that follow. Holds no more
 * rows than were looked at. Not thread-safe.
 */
final class RowQueue implements ReceptionTimes.RowsAhead {
  private final RowSource reader;
  private final Deque<Row> read = new ArrayDeque<>();
  private @Nullable IOException fault;
  private boolean ended;

  RowQueue(RowSource reader) {
    this.reader = reader;
  }

  /**
   * The next row; null at the end.
   *
   * @throws EOFException or {@link ZipException} when the compressed data breaks off before it
   */
  @Nullable Row next() throws IOException {
    if (read.isEmpty()) {
      readOne();
    }
    Row row = read.poll();
    if (row == null && fault != null) {
      throw fault;
    }
    return row;
  }

  @Override
  public Iterable<Row> rows() throws IOException {
    while (read.size() < ReceptionTimes.AHEAD && !ended) {
      readOne();
    }
    return read;
  }

  private void readOne() throws IOException {
    if (ended) {
      return;
    }
    try {
      Row row = reader.next();
      if (row == null) {
        ended = true;
      } else {
        read.add(row);
      }
    } catch (EOFException | ZipException e) {
      fault = e; // told when the rows before it have been taken
      ended = true;
    }
  }
}
