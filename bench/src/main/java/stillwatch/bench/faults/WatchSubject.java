package stillwatch.bench.faults;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.station.broker.EmbeddedBroker;

/** A watch with a broker of its own, on a disk of its own where this machine allows it. */
final class WatchSubject implements Subject {
  private final @Nullable LoopDisk disk;
  private final Path data;
  private final LiveWatch watch;
  private final RoutePeers peers;

  /** Starts it in this folder with this plan. */
  WatchSubject(Path folder, Path plan, RoutePeers peers, Tally tally)
      throws IOException, InterruptedException {
    this.peers = peers;
    disk = disk(folder, tally);
    data = (disk == null ? folder : disk.folder()).resolve("data");
    watch = new LiveWatch(plan, data, folder.resolve("err"));
  }

  private static @Nullable LoopDisk disk(Path folder, Tally tally) throws InterruptedException {
    try {
      return LoopDisk.mount(folder.resolve("image"), folder.resolve("disk"));
    } catch (IOException e) {
      for (Kind kind : List.of(Kind.DISK_FULL, Kind.DISK_SLOW, Kind.DISK_READ_ONLY)) {
        tally.skipped(kind, String.valueOf(e.getMessage()));
      }
      return null;
    }
  }

  @Override
  public Part door() {
    return watch.part();
  }

  @Override
  public Part desk() {
    return watch.part();
  }

  @Override
  public Optional<String> brokerAddress() {
    return watch.brokerAddress();
  }

  @Override
  public boolean suffers(Kind kind) {
    return disk != null || !kind.name().startsWith("DISK");
  }

  @Override
  public long happen(Kind kind, Random random, List<String> seen)
      throws IOException, InterruptedException {
    return new FaultRun(watch, peers, disk, random, seen).happen(kind);
  }

  @Override
  public String state() {
    return "process " + (watch.part().alive() ? "alive" : "ended");
  }

  @Override
  public void revive() throws IOException {
    if (!watch.part().alive()) {
      watch.part().start();
    }
  }

  @Override
  public Records end(List<String> seen) throws InterruptedException {
    if (!watch.part().stop()) {
      seen.add("the watch did not stop within half a minute");
      watch.part().kill();
    }
    EmbeddedBroker broker = EmbeddedBroker.start(data.resolve("broker")).join();
    return new Records(
        KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of())),
        Journal.inFolder(data),
        broker::close);
  }

  @Override
  public void close() throws IOException {
    watch.close();
    if (disk != null) {
      disk.close();
    }
  }
}
