package stillwatch.ingest.door;

import java.nio.file.FileSystems;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.regex.PatternSyntaxException;
import stillwatch.ingest.recording.RecordingLayout;

/**
 * Readings that a logger writes to files of a folder: CSV, plain or packed by gzip (RFC 1952).
 *
 * @param folder where the files are
 * @param names which of them are read: a glob of {@link java.nio.file.FileSystem#getPathMatcher}
 * @param every how often it is looked whether there is more
 * @param layout how they are laid out
 */
public record FilesPlan(Path folder, String names, Duration every, RecordingLayout layout)
    implements SourcePlan.Way {
  @Override
  public List<String> gauges() {
    return layout.gauges();
  }

  /** Why no file can have such a name; empty when one can. */
  public static Optional<String> faultOf(String names) {
    try {
      var unused = FileSystems.getDefault().getPathMatcher("glob:" + names);
      return Optional.empty();
    } catch (PatternSyntaxException e) {
      return Optional.of(
          "'"
              + names
              + "' is no pattern of file names: "
              + e.getDescription()
              + "; write it like *.csv*");
    }
  }
}
