package stillwatch.station.command;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import stillwatch.station.option.InputException;
import stillwatch.station.run.ClassArchive;
import stillwatch.station.run.DemoFolder;
import stillwatch.station.run.OwnJava;
import stillwatch.station.run.Rehearsal;

/** Makes the archive of classes with which the launcher starts this installation. */
@Command(
    name = "prepare",
    mixinStandardHelpOptions = true,
    description = {
      "Lets this installation start sooner: runs the demo for a moment and keeps the classes that it loaded in a file that Java maps into memory at each start (about 100 MB).",
      "Do it again after another Java or another version is installed; a file that does not fit is left alone."
    })
public final class PrepareCommand implements Callable<Integer> {
  @Option(names = "--rehearse", hidden = true, paramLabel = "DIR")
  private @Nullable Path rehearse;

  @Spec private CommandSpec spec = CommandSpec.create();

  @Override
  public Integer call() throws IOException, InterruptedException {
    CommandLine root = spec.root().commandLine();
    Path data = rehearse;
    if (data != null) {
      return Rehearsal.run(data, root::execute);
    }
    Path archive =
        ClassArchive.place()
            .orElseThrow(
                () -> new InputException("prepare: start it by the launcher, bin/stillwatch"));
    if (!Files.isWritable(archive.toAbsolutePath().getParent())) {
      throw new InputException(
          "prepare: cannot write " + archive + "; run it as somebody who may write to that folder");
    }
    Path fresh = archive.resolveSibling(archive.getFileName() + ".new");
    try (DemoFolder folder = DemoFolder.make()) {
      Path said = folder.path().resolve("said");
      int exit = child(root.getCommand().getClass().getName(), fresh, folder.path(), said);
      if (exit != 0 || !Files.exists(fresh)) {
        System.err.println("stillwatch: the demo did not run to its first alarm; it said:");
        System.err.print(Files.readString(said));
        return 1;
      }
    }
    Files.move(fresh, archive, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    System.err.println(archive + ": made; Java takes it from the next start on");
    return 0;
  }

  private static int child(String main, Path fresh, Path data, Path said)
      throws IOException, InterruptedException {
    return new ProcessBuilder(
            OwnJava.line(
                List.of(
                    "-Xlog:disable",
                    "-XX:ArchiveClassesAtExit=" + fresh,
                    "-Dstillwatch.home=" + System.getProperty("stillwatch.home", ".")),
                main,
                List.of("prepare", "--rehearse=" + data)))
        .redirectErrorStream(true)
        .redirectOutput(said.toFile())
        .start()
        .waitFor();
  }
}
