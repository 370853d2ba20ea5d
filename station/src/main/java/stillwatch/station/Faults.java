package stillwatch.station;

import java.io.PrintWriter;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
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
    if (fault instanceof FileSystemException file && file.getFile() != null) {
      return notUsable(file, err);
    }
    err.println(
        "stillwatch: " + (fault.getMessage() == null ? fault.toString() : fault.getMessage()));
    return 1;
  }

  /** A path that cannot be read or written as it was given; exit 1 where the path is no reason. */
  private static int notUsable(FileSystemException fault, PrintWriter err) {
    String path = "'" + fault.getFile() + "'";
    if (fault instanceof NoSuchFileException) {
      err.println(path + ": there is no such file, or no folder for it; make it, or give another");
    } else if (fault instanceof AccessDeniedException) {
      err.println(path + ": may not be read or written by this user; give another");
    } else {
      err.println(path + ": cannot be used: " + fault.getReason() + "; give another");
      return Files.isDirectory(Path.of(fault.getFile())) ? 2 : 1;
    }
    return 2;
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
