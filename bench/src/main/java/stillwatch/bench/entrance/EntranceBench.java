package stillwatch.bench.entrance;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** Prints what a crowd at the door does to the watch behind it. */
public final class EntranceBench {
  private EntranceBench() {}

  /** Runs it; {@code --quick} for a small crowd. */
  public static void main(String[] args) throws IOException, InterruptedException {
    Crowd crowd = args.length > 0 && args[0].equals("--quick") ? Crowd.SMALL : Crowd.WHOLE;
    Path folder = Files.createTempDirectory("entrance-bench");
    System.out.println(crowd + ", -Xmx512m, data in " + folder);
    try (Siege siege = new Siege(crowd, folder)) {
      System.out.println(siege.run());
    }
  }
}
