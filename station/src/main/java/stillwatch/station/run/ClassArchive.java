package stillwatch.station.run;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/**
 * The archive of classes that Java maps into memory at the start of a process (JEP 350), where the
 * launcher says that one may be: a process then stands in about half the time. Java leaves one
 * alone that another Java or another version of this program has made.
 */
public final class ClassArchive {
  private ClassArchive() {}

  /** Where the launcher looks for one; empty when no launcher started this process. */
  public static Optional<Path> place() {
    return Optional.ofNullable(System.getProperty("stillwatch.archive")).map(Path::of);
  }

  /** The options with which another process of this program takes it; none where there is none. */
  static List<String> options() {
    return place()
        .filter(Files::isReadable)
        .map(
            archive ->
                List.of(
                    "-XX:SharedArchiveFile=" + archive,
                    "-Xlog:cds=off,cds+dynamic=off,class+path=off"))
        .orElse(List.of());
  }
}
