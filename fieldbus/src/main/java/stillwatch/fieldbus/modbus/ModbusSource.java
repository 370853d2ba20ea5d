package stillwatch.fieldbus.modbus;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import stillwatch.ingest.door.Attempts;
import stillwatch.ingest.door.Inlet;
import stillwatch.ingest.door.Kept;
import stillwatch.ingest.door.Source;

/**
 * Polls registers over Modbus TCP, stamped when their answer comes. Modbus knows no history: what
 * was not polled, nobody has. A register that is not said is the silence of its gauge; a unit that
 * does not answer is asked less and less often, so that it does not hold up the others; when nobody
 * answers, the connection is made again.
 */
final class ModbusSource implements Source {
  private static final long LONGEST_REST_MS = 30_000;

  private final ModbusPlan plan;
  private final Inlet inlet;
  private final Attempts attempts;
  private final Map<Integer, Rest> rests = new HashMap<>();
  private List<Block> blocks;

  /** How long a unit that did not answer is left alone. */
  private record Rest(long untilNs, long ms, String why) {}

  ModbusSource(ModbusPlan plan, Inlet inlet) {
    this.plan = plan;
    this.inlet = inlet;
    attempts = new Attempts(inlet);
    blocks = Block.of(plan.points());
  }

  @Override
  public void run() {
    attempts.run(this::once);
  }

  @Override
  public void close() {
    attempts.close();
  }

  private boolean once() throws InterruptedException {
    boolean there = false;
    try (Device device = Device.open(plan)) {
      blocks = Block.of(plan.points());
      rests.clear();
      long nextNs = System.nanoTime();
      do {
        poll(device);
        there = true;
        nextNs = Math.max(nextNs + plan.every().toNanos(), System.nanoTime());
      } while (!attempts.pause(TimeUnit.NANOSECONDS.toMillis(nextNs - System.nanoTime())));
    } catch (IOException e) {
      inlet.health().lost(String.valueOf(e.getMessage()));
    }
    return there;
  }

  /** Reads all once. */
  private void poll(Device device) throws IOException, InterruptedException {
    List<CompletableFuture<Void>> kept = new ArrayList<>();
    List<String> lacks = new ArrayList<>();
    List<Block> next = new ArrayList<>();
    boolean answered = false;
    for (Block block : blocks) {
      Rest rest = rests.get(block.unitId());
      if (rest != null && rest.untilNs() - System.nanoTime() > 0) {
        block.points().forEach(p -> lacks.add(p.place() + ": " + rest.why()));
        next.add(block);
        continue;
      }
      try {
        take(block, device.read(block), kept);
        rests.remove(block.unitId());
        answered = true;
        next.add(block);
      } catch (Device.NotReadException e) {
        answered |= e.answered();
        boolean single = block.points().size() == 1;
        if (e.answered() && !single) {
          next.addAll(apart(device, block, kept, lacks));
        } else {
          next.add(block);
          block.points().forEach(p -> lacks.add(p.place() + ": " + e.getMessage()));
        }
        if (!e.answered()) {
          rest(block.unitId(), String.valueOf(e.getMessage()));
        }
      }
    }
    blocks = next;
    if (!answered && kept.isEmpty()) {
      throw new IOException(plan.server() + ": " + String.join("; ", lacks));
    }
    Kept.all(kept);
    inlet.health().connected(lacks);
  }

  /** Reads the points of a block one by one, from now on: one of them may be what is refused. */
  private List<Block> apart(
      Device device, Block block, List<CompletableFuture<Void>> kept, List<String> lacks)
      throws IOException {
    List<Block> single = block.apart();
    for (Block one : single) {
      try {
        take(one, device.read(one), kept);
      } catch (Device.NotReadException e) {
        lacks.add(one.points().get(0).place() + ": " + e.getMessage());
      }
    }
    return single;
  }

  private void take(Block block, byte[] registers, List<CompletableFuture<Void>> kept) {
    long atMs = inlet.nowMs();
    for (Point p : block.points()) {
      kept.add(inlet.take(p.reading(registers, p.register() - block.first(), atMs)));
    }
  }

  private void rest(int unitId, String why) {
    Rest before = rests.get(unitId);
    long ms = before == null ? plan.every().toMillis() : Math.min(LONGEST_REST_MS, before.ms() * 2);
    rests.put(unitId, new Rest(System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(ms), ms, why));
  }
}
