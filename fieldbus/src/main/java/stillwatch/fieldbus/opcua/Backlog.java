package stillwatch.fieldbus.opcua;

import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.uint;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import org.eclipse.milo.opcua.sdk.client.OpcUaClient;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.types.builtin.ByteString;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.QualifiedName;
import org.eclipse.milo.opcua.stack.core.types.enumerated.TimestampsToReturn;
import org.eclipse.milo.opcua.stack.core.types.structured.HistoryData;
import org.eclipse.milo.opcua.stack.core.types.structured.HistoryReadResult;
import org.eclipse.milo.opcua.stack.core.types.structured.HistoryReadValueId;
import org.eclipse.milo.opcua.stack.core.types.structured.ReadRawModifiedDetails;

/**
 * What a server kept while there was no connection: its raw history (OPC 10000-11, 6.5.3) from the
 * last reading on that is kept here, of all gauges together in the order of their source times.
 * What had come before all the same is given again, and is known by the inlet.
 */
final class Backlog {
  private static final int PAGE = 1000;

  /** Beyond the clock of any server, so that what it stamped while it was asked is in. */
  private static final Duration BEYOND = Duration.ofDays(1);

  private final OpcUaClient client;
  private final List<String> lacks = new ArrayList<>();

  /** Where it brings what was said. */
  interface Taking {
    void take(Variable variable, DataValue said) throws IOException, InterruptedException;
  }

  Backlog(OpcUaClient client) {
    this.client = client;
  }

  /**
   * Brings it, the oldest first.
   *
   * @return of which gauges it is lacking, a sentence each
   * @throws UaException when the server does not answer
   */
  List<String> give(List<Variable> variables, LastTimes last, Taking taking)
      throws UaException, IOException, InterruptedException {
    List<Course> courses = new ArrayList<>();
    for (Variable v : variables) {
      OptionalLong from = last.of(v.item().gauge());
      if (from.isPresent() && !v.history()) {
        lacks.add(
            v.item().place()
                + ": the server keeps no history of it, so that what it said while the connection was lost is lacking");
      } else if (from.isPresent()) {
        courses.add(new Course(v, from.getAsLong()));
      }
    }
    for (Optional<Course> next = next(courses); next.isPresent(); next = next(courses)) {
      Course course = next.get();
      taking.take(course.variable, course.page.removeFirst());
    }
    return lacks;
  }

  private Optional<Course> next(List<Course> courses) throws UaException {
    for (Course c : courses) {
      c.fill();
    }
    return courses.stream()
        .filter(c -> !c.page.isEmpty())
        .min(Comparator.comparingLong(c -> time(c.page.getFirst())));
  }

  private static long time(DataValue said) {
    DateTime at = said.getSourceTime() == null ? said.getServerTime() : said.getSourceTime();
    return at == null ? 0 : at.getUtcTime();
  }

  /** One gauge's history, a page of it at a time. */
  private final class Course {
    private final Variable variable;
    private final ReadRawModifiedDetails asked;
    private final Deque<DataValue> page = new ArrayDeque<>();
    private ByteString more = ByteString.NULL_VALUE;
    private boolean over;

    Course(Variable variable, long fromMs) {
      this.variable = variable;
      asked =
          new ReadRawModifiedDetails(
              false,
              new DateTime(Instant.ofEpochMilli(fromMs)),
              new DateTime(Instant.now().plus(BEYOND)),
              uint(PAGE),
              false);
    }

    /** Asks for the next page where there is nothing left of the last. */
    void fill() throws UaException {
      while (page.isEmpty() && !over) {
        HistoryReadResult[] results =
            client
                .historyRead(
                    asked,
                    TimestampsToReturn.Both,
                    false,
                    List.of(
                        new HistoryReadValueId(
                            variable.node(), null, QualifiedName.NULL_VALUE, more)))
                .getResults();
        if (results == null || results.length == 0) {
          over = true;
        } else {
          read(results[0]);
        }
      }
    }

    private void read(HistoryReadResult result) throws UaException {
      if (result.getStatusCode().isBad()) {
        over = true;
        lacks.add(
            variable.item().place()
                + ": the server does not say its history ("
                + Words.name(result.getStatusCode())
                + "), so that what it said while the connection was lost is lacking");
        return;
      }
      if (result.getHistoryData() != null
          && !result.getHistoryData().isNull()
          && result.getHistoryData().decode(client.getStaticEncodingContext())
              instanceof HistoryData data
          && data.getDataValues() != null) {
        page.addAll(List.of(data.getDataValues()));
      }
      more = result.getContinuationPoint();
      over = more == null || more.isNull();
    }
  }
}
