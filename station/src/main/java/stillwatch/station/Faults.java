package stillwatch.station;

import java.io.PrintWriter;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import picocli.CommandLine;
import picocli.CommandLine.IExecutionExceptionHandler;
import picocli.CommandLine.ParseResult;
import stillwatch.alerts.journal.JournalException;
import stillwatch.alerts.room.RoomException;
import stillwatch.ingest.recording.RecordingException;
import stillwatch.ingest.unit.UnitException;
import stillwatch.rules.book.CatalogueException;
import stillwatch.rules.drill.DrillException;
import stillwatch.rules.plan.PlanException;
import stillwatch.rules.tune.LabelException;
import stillwatch.station.option.InputException;

/**
 * Turns what went wrong into one line a mistake and an exit code; a stack trace only ever goes to
 * the log at debug.
 */
final class Faults implements IExecutionExceptionHandler {
  private static final Logger LOG = LoggerFactory.getLogger(Faults.class);

  @Override
  public int handleExecutionException(Exception fault, CommandLine command, ParseResult parsed) {
    PrintWriter err = command.getErr();
    LOG.debug("command failed", fault);
    if (isInput(fault)) {
      String.valueOf(fault.getMessage()).lines().forEach(err::println);
      return 2;
    }
    err.println(
        "stillwatch: " + (fault.getMessage() == null ? fault.toString() : fault.getMessage()));
    return 1;
  }

  private static boolean isInput(Throwable fault) {
    return fault instanceof InputException
        || fault instanceof RoomException
        || fault instanceof JournalException
        || fault instanceof LabelException
        || fault instanceof PlanException
        || fault instanceof RecordingException
        || fault instanceof CatalogueException
        || fault instanceof UnitException
        || fault instanceof DrillException;
  }
}
