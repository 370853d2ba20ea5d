package stillwatch.station.broker;

import java.nio.file.Path;

/** A broker in a process of its own, which can be stopped and killed; prints its address. */
public final class BrokerMain {
  private BrokerMain() {}

  /** The folder of its log is the argument. */
  public static void main(String[] args) throws InterruptedException {
    System.out.println(EmbeddedBroker.start(Path.of(args[0])).join().bootstrap());
    Thread.currentThread().join();
  }
}
