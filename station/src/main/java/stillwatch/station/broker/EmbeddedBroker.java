package stillwatch.station.broker;

import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ThreadLocalRandom;
import java.util.stream.Stream;
import kafka.server.KafkaConfig;
import kafka.server.KafkaRaftServer;
import org.apache.kafka.common.Uuid;
import org.apache.kafka.common.utils.Time;
import org.apache.kafka.common.utils.Utils;
import org.apache.kafka.metadata.storage.Formatter;
import org.apache.kafka.server.common.MetadataVersion;

/**
 * A single-node Kafka (KRaft) in this process, on the loopback address only, on free ports chosen
 * at each start. Its data outlive the process, a killed one too.
 */
public final class EmbeddedBroker implements AutoCloseable {
  private static final String HOST = "127.0.0.1";
  private static final int LOWEST_PORT = 15_000;
  private static final int HIGHEST_PORT = 32_000;

  private final KafkaRaftServer server;
  private final int port;

  private EmbeddedBroker(KafkaRaftServer server, int port) {
    this.server = server;
    this.port = port;
  }

  /** Loads what a broker needs, so that it starts sooner later. */
  public static void load() {
    try {
      for (String name :
          new String[] {
            "kafka.server.KafkaRaftServer",
            "kafka.server.BrokerServer",
            "kafka.server.ControllerServer",
            "kafka.server.ReplicaManager",
            "kafka.log.LogManager",
            "org.apache.kafka.controller.QuorumController",
            "org.apache.kafka.raft.KafkaRaftClient",
            "org.apache.kafka.coordinator.group.GroupCoordinatorService"
          }) {
        Class.forName(name);
      }
    } catch (ClassNotFoundException e) {
      throw new IllegalStateException("the program lacks its broker; build it again", e);
    }
  }

  /** The ports of a broker: for clients, and for its controller. */
  public record Ports(int broker, int controller) {
    /** Two that nobody has now, below those that systems give to clients by themselves. */
    public static Ports free() throws IOException {
      int first = anyPort(0);
      return new Ports(first, anyPort(first));
    }

    private static int anyPort(int not) throws IOException {
      IOException last =
          new IOException("no free port between " + LOWEST_PORT + " and " + HIGHEST_PORT);
      for (int tries = 0; tries < 100; tries++) {
        int port = ThreadLocalRandom.current().nextInt(LOWEST_PORT, HIGHEST_PORT);
        try (ServerSocket unused = new ServerSocket(port, 1, InetAddress.getLoopbackAddress())) {
          if (port != not) {
            return port;
          }
        } catch (IOException e) {
          last = e;
        }
      }
      throw last;
    }
  }

  /** Starts a broker on a thread of its own; the future fails with one sentence when it cannot. */
  public static CompletableFuture<EmbeddedBroker> start(Path folder) {
    return start(folder, Map.of());
  }

  /** The same on these ports. */
  public static CompletableFuture<EmbeddedBroker> start(Path folder, Ports ports) {
    return start(folder, ports, Map.of());
  }

  /** The same with other settings of Kafka's. */
  static CompletableFuture<EmbeddedBroker> start(Path folder, Map<String, String> settings) {
    try {
      return start(folder, Ports.free(), settings);
    } catch (IOException e) {
      return CompletableFuture.failedFuture(new UncheckedIOException(e));
    }
  }

  private static CompletableFuture<EmbeddedBroker> start(
      Path folder, Ports ports, Map<String, String> settings) {
    CompletableFuture<EmbeddedBroker> started = new CompletableFuture<>();
    Thread starter =
        new Thread(
            () -> {
              try {
                started.complete(startHere(folder, ports, settings));
              } catch (Exception e) { // whatever Kafka throws, the caller must hear of it
                started.completeExceptionally(
                    new IllegalStateException(
                        "the embedded broker could not start in " + folder + ": " + e.getMessage(),
                        e));
              }
            },
            "broker-start");
    starter.setDaemon(true);
    starter.start();
    return started;
  }

  private static EmbeddedBroker startHere(Path folder, Ports ports, Map<String, String> settings)
      throws Exception {
    if (!Files.exists(folder.resolve("meta.properties"))) {
      format(folder);
    }
    Properties p = new Properties();
    p.put("process.roles", "broker,controller");
    p.put("node.id", "1");
    p.put("controller.quorum.voters", "1@" + HOST + ":" + ports.controller());
    p.put(
        "listeners",
        "PLAINTEXT://"
            + HOST
            + ":"
            + ports.broker()
            + ",CONTROLLER://"
            + HOST
            + ":"
            + ports.controller());
    p.put("advertised.listeners", "PLAINTEXT://" + HOST + ":" + ports.broker());
    p.put("listener.security.protocol.map", "PLAINTEXT:PLAINTEXT,CONTROLLER:PLAINTEXT");
    p.put("controller.listener.names", "CONTROLLER");
    p.put("inter.broker.listener.name", "PLAINTEXT");
    p.put("log.dirs", folder.toString());
    p.put("offsets.topic.replication.factor", "1");
    p.put("offsets.topic.num.partitions", "1");
    p.put("transaction.state.log.replication.factor", "1");
    p.put("transaction.state.log.min.isr", "1");
    p.put("transaction.state.log.num.partitions", "1");
    p.put("share.coordinator.state.topic.replication.factor", "1");
    p.put("share.coordinator.state.topic.min.isr", "1");
    p.put("group.initial.rebalance.delay.ms", "0");
    p.put("auto.create.topics.enable", "false");
    p.put("num.io.threads", "2");
    p.put("num.network.threads", "2");
    p.put("log.segment.bytes", "134217728");
    p.put("log.cleaner.dedupe.buffer.size", "8388608"); // little is compacted; not 128 MB of heap
    // what a power cut may take from the log; alerts are flushed one by one (KafkaBus)
    p.put("log.flush.interval.ms", "1000");
    p.put("log.flush.scheduler.interval.ms", "1000");
    p.put("controlled.shutdown.enable", "false");
    // after a kill the new start waits until the controller has given the old one up
    p.put("broker.session.timeout.ms", "2000");
    p.put("broker.heartbeat.interval.ms", "400");
    p.putAll(settings);
    KafkaRaftServer server = new KafkaRaftServer(new KafkaConfig(p, false), Time.SYSTEM);
    server.startup();
    return new EmbeddedBroker(server, ports.broker());
  }

  /** Makes an empty log there, whole or not at all. */
  private static void format(Path folder) throws Exception {
    Path made = folder.resolveSibling(folder.getFileName() + ".new");
    Utils.delete(made.toFile()); // what a killed process left half done
    Files.createDirectories(made);
    new Formatter()
        .setClusterId(Uuid.randomUuid().toString())
        .setNodeId(1)
        .setControllerListenerName("CONTROLLER")
        .setMetadataLogDirectory(made.toString())
        .setReleaseVersion(MetadataVersion.latestProduction())
        .setDirectories(List.of(made.toString()))
        .setPrintStream(
            new PrintStream(OutputStream.nullOutputStream(), false, StandardCharsets.UTF_8))
        .run();
    flush(made);
    Files.move(made, folder, StandardCopyOption.ATOMIC_MOVE);
    Utils.flushDir(folder.toAbsolutePath().getParent());
  }

  /**
   * Sees to it that the disk has all of a folder: without any one file the log cannot be opened.
   */
  private static void flush(Path folder) throws IOException {
    List<Path> all;
    try (Stream<Path> walk = Files.walk(folder)) {
      all = walk.toList();
    }
    for (Path p : all) {
      if (Files.isDirectory(p)) {
        Utils.flushDir(p);
      } else {
        try (FileChannel file = FileChannel.open(p, StandardOpenOption.WRITE)) {
          file.force(true);
        }
      }
    }
  }

  /** The address for clients, host:port. */
  public String bootstrap() {
    return HOST + ":" + port;
  }

  @Override
  public void close() {
    server.shutdown();
    server.awaitShutdown();
  }
}
