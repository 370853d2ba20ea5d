package stillwatch.ingest.door;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import java.util.zip.ZipException;
import stillwatch.ingest.intake.Refusal;
import stillwatch.ingest.intake.Refusal.Reason;
import stillwatch.ingest.recording.Piece;
import stillwatch.ingest.recording.RecordingException;
import stillwatch.ingest.recording.RecordingLayout;

/**
 * Takes readings from the files of a folder, older files first, each from where it was read to.
 * That place is noted on disk once everything before it is kept, so what a killed process had not
 * noted comes again, and is known by {@link Inlet}.
 */
final class FilesSource implements Source {
  private final FilesPlan plan;
  private final Inlet inlet;
  private final Attempts attempts;
  private final Map<Path, Stamp> read = new HashMap<>();
  private List<String> lacks = List.of();
  private boolean failing;

  /** What a file looked like when it was read to its end. */
  private record Stamp(long size, FileTime changed) {}

  FilesSource(FilesPlan plan, Inlet inlet) {
    this.plan = plan;
    this.inlet = inlet;
    attempts = new Attempts(inlet);
  }

  @Override
  public void run() {
    try (Positions positions =
        Positions.open(inlet.folder().resolve(inlet.name() + ".positions"))) {
      attempts.run(() -> lookUntilClosed(positions));
    } catch (IOException e) {
      throw new UncheckedIOException(
          "how far files were read cannot be kept in " + inlet.folder() + ": " + e.getMessage(), e);
    }
  }

  private boolean lookUntilClosed(Positions positions) throws InterruptedException {
    do {
      look(positions);
    } while (!attempts.pause(plan.every().toMillis()));
    return true;
  }

  /** Reads whatever is new, as long as it can be kept. */
  private void look(Positions positions) throws InterruptedException {
    try {
      Map<Path, Stamp> changed = changed();
      List<LoggedFile> files = new ArrayList<>();
      List<String> closed = new ArrayList<>();
      for (Path path : changed.keySet()) {
        known(path, changed, files, closed);
      }
      files.sort(Comparator.comparingLong(LoggedFile::firstMs).thenComparing(LoggedFile::path));
      lacks = files.isEmpty() ? lacks : files.get(files.size() - 1).lacks();
      if (!failing) {
        said(closed);
      }
      for (LoggedFile file : files) {
        if (!attempts.closed()) {
          readOn(file, positions);
          note(file.path(), changed);
        }
      }
      failing = false;
      said(closed);
    } catch (NoSuchFileException e) {
      failed("there is no folder " + plan.folder() + "; make it, or correct the plan");
    } catch (AccessDeniedException e) {
      failed("the folder " + plan.folder() + " may not be read; allow this user to");
    } catch (IOException e) {
      failed(String.valueOf(e.getMessage()));
    }
  }

  /** It is in touch with the folder; what it lacks is said of the newest file. */
  private void said(List<String> closed) {
    inlet.health().connected(Stream.concat(lacks.stream(), closed.stream().sorted()).toList());
  }

  private void failed(String why) {
    failing = true;
    inlet.health().lost(why);
  }

  /** The folder's files that are not as they were when they were read. */
  private Map<Path, Stamp> changed() throws IOException {
    Map<Path, Stamp> changed = new HashMap<>();
    try (DirectoryStream<Path> all = Files.newDirectoryStream(plan.folder(), plan.names())) {
      for (Path path : all) {
        BasicFileAttributes is = Files.readAttributes(path, BasicFileAttributes.class);
        Stamp now = new Stamp(is.size(), is.lastModifiedTime());
        if (is.isRegularFile() && !now.equals(read.get(path))) {
          changed.put(path, now);
        }
      }
    } catch (NoSuchFileException e) {
      if (!Files.isDirectory(plan.folder())) {
        throw e;
      }
      return Map.of(); // renamed meanwhile: the next look sees all
    }
    read.keySet().removeIf(path -> !Files.exists(path));
    return changed;
  }

  private void note(Path path, Map<Path, Stamp> changed) {
    Stamp stamp = changed.get(path);
    if (stamp != null) {
      read.put(path, stamp);
    }
  }

  /** Adds it once it has a row; what cannot be read is refused until it changes. */
  private void known(
      Path path, Map<Path, Stamp> changed, List<LoggedFile> into, List<String> closed)
      throws IOException {
    try {
      LoggedFile.of(path, plan.layout()).ifPresent(into::add);
    } catch (NoSuchFileException e) {
      // renamed meanwhile
    } catch (AccessDeniedException e) {
      closed.add(path + " may not be read; allow this user to");
    } catch (RecordingException | ZipException e) {
      note(path, changed);
      var unused = inlet.refuse(new byte[0], Refusal.ofLine(Reason.INCOMPLETE, why(path, e)));
    }
  }

  private static String why(Path path, Exception e) {
    return e instanceof ZipException
        ? path + ": the packed data is broken (" + e.getMessage() + "); copy the file again"
        : String.valueOf(e.getMessage()).replace("\n", "; ");
  }

  private void readOn(LoggedFile file, Positions positions)
      throws IOException, InterruptedException {
    try {
      file.read(
          positions.of(file.id()).orElse(file.start()),
          (piece, after) -> {
            taken(piece, file.layout());
            positions.put(file.id(), after);
          });
    } catch (NoSuchFileException e) {
      // renamed meanwhile: the next look finds it under its new name
    } catch (ZipException e) {
      var unused =
          inlet.refuse(new byte[0], Refusal.ofLine(Reason.INCOMPLETE, why(file.path(), e)));
    }
  }

  /** Returns when all of it is kept, the refused rows among the rejects. */
  private void taken(Piece piece, RecordingLayout layout) throws IOException, InterruptedException {
    PieceTaking rows = new PieceTaking(piece, layout, inlet);
    piece.read(layout, rows);
    Kept.all(List.of(rows.kept()));
  }

  @Override
  public void close() {
    attempts.close();
  }
}
