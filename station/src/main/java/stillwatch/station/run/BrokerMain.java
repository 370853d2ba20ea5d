package stillwatch.station.run;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.concurrent.CompletionException;
import stillwatch.station.broker.EmbeddedBroker;
import stillwatch.station.broker.EmbeddedBroker.Ports;

/**
 * The broker of a watch in a process of its own. It prints its address when it can be used. Started
 * without a folder it loads what it will need and waits for it on a line of its standard input, so
 * that it starts beside the watch and not after it. A further line ends it in order; the end of its
 * standard input, which comes when the watch dies, ends it at once.
 */
public final class BrokerMain {
  private static final long LONGEST_END_MS = 5000;

  private BrokerMain() {}

  /**
   * The arguments: the folder of its log and, where they are given, its two ports; or the ports
   * alone.
   */
  public static void main(String[] args) throws IOException {
    int given = args.length % 2; // a folder and two ports, a folder, or two ports
    Path folder = given == 1 ? Path.of(args[0]) : awaited();
    Ports ports =
        args.length >= 2
            ? new Ports(Integer.parseInt(args[given]), Integer.parseInt(args[given + 1]))
            : Ports.free();
    Thread life =
        new Thread(
            () -> {
              if (!line()) {
                Runtime.getRuntime().halt(1);
              }
            },
            "life");
    life.setDaemon(true);
    life.start();
    Thread main = Thread.currentThread();
    Runtime.getRuntime().addShutdownHook(new Thread(() -> await(main), "ending"));
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder, ports).join()) {
      System.out.println(broker.bootstrap());
      life.join();
    } catch (CompletionException e) {
      System.err.println(e.getCause() == null ? e : e.getCause().getMessage());
      Runtime.getRuntime().halt(1);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    Runtime.getRuntime().halt(0); // whatever threads it has left behind
  }

  private static Path awaited() throws IOException {
    EmbeddedBroker.load();
    ByteArrayOutputStream line = new ByteArrayOutputStream();
    for (int c = System.in.read(); c != '\n'; c = System.in.read()) {
      if (c < 0) {
        Runtime.getRuntime().halt(0); // the watch did not come to need it
      }
      line.write(c);
    }
    return Path.of(line.toString(StandardCharsets.UTF_8));
  }

  /** Ctrl-C reaches the watch's processes all at once; the broker goes last. */
  private static void await(Thread main) {
    try {
      main.join(LONGEST_END_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Waits for a line; false when none can come any more. */
  private static boolean line() {
    try {
      return System.in.read() >= 0;
    } catch (IOException e) {
      return false;
    }
  }
}
