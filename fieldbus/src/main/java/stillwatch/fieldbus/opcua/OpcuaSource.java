package stillwatch.fieldbus.opcua;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import stillwatch.ingest.door.Attempts;
import stillwatch.ingest.door.Inlet;
import stillwatch.ingest.door.Kept;
import stillwatch.ingest.door.Reading;
import stillwatch.ingest.door.Source;
import stillwatch.ingest.intake.Refusal;
import stillwatch.ingest.intake.Refusal.Reason;

/**
 * Takes what an OPC UA server publishes. Each connection subscribes first, then asks for the
 * history since the last reading that is kept, and takes what the subscription has brought after
 * that: so nothing is lacking and the order is the source's, as far as the server keeps a history.
 */
final class OpcuaSource implements Source {
  private static final int BATCH = 1000;
  private static final long LISTENS_MS = 100;
  private static final long NOTED_EVERY_NS = TimeUnit.SECONDS.toNanos(1);

  private final OpcuaPlan plan;
  private final Inlet inlet;
  private final Attempts attempts;

  OpcuaSource(OpcuaPlan plan, Inlet inlet) {
    this.plan = plan;
    this.inlet = inlet;
    attempts = new Attempts(inlet);
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
    try (Server server = Server.open(plan)) {
      Variables variables = Variables.of(server.client(), plan.items());
      Subscribed subscribed = Subscribed.to(server, variables.found(), plan.every());
      List<String> lacks = new ArrayList<>(variables.lacks());
      lacks.addAll(subscribed.lacks());
      if (lacks.size() >= plan.items().size()) {
        inlet.health().lost(String.join("; ", lacks));
        return false;
      }
      there = true;
      inlet.health().connected(lacks);
      Taken taken = new Taken(times(variables.found()));
      lacks.addAll(new Backlog(server.client()).give(variables.found(), taken.times, taken::take));
      taken.keep();
      inlet.health().connected(lacks);
      listen(server, subscribed, taken);
    } catch (UaException e) {
      inlet.health().lost(Words.noSession(plan.server(), e, plan));
    } catch (IOException e) {
      inlet.health().lost(String.valueOf(e.getMessage()));
    }
    return there;
  }

  /** Until when each is kept; of one that never was, what it says from now on is wanted. */
  private LastTimes times(List<Variable> variables) throws IOException {
    LastTimes times = LastTimes.open(inlet.folder().resolve(inlet.name() + ".times"));
    for (Variable v : variables) {
      if (v.history()) {
        times.begin(v.item().gauge(), Math.min(v.sinceMs(), inlet.nowMs()));
      }
    }
    times.write();
    return times;
  }

  /** Takes what comes until the session is lost or the source is closed. */
  private void listen(Server server, Subscribed subscribed, Taken taken)
      throws IOException, InterruptedException {
    boolean going = true;
    while (going) {
      going = !attempts.closed() && !server.lost().isDone();
      List<Subscribed.Said> batch = new ArrayList<>();
      Subscribed.Said first =
          going
              ? subscribed.said().poll(LISTENS_MS, TimeUnit.MILLISECONDS)
              : subscribed.said().poll();
      if (first != null) {
        batch.add(first);
        subscribed.said().drainTo(batch);
      }
      for (Subscribed.Said said : batch) {
        taken.take(said.variable(), said.value());
      }
      taken.keep();
    }
    taken.times.write();
    if (server.lost().isDone()) {
      inlet.health().lost(server.lost().join());
    }
  }

  /** What was given to the inlet, and until when all of it is kept. For one thread. */
  private final class Taken {
    private final LastTimes times;
    private final List<CompletableFuture<Void>> given = new ArrayList<>();
    private final List<Reading> readings = new ArrayList<>();
    private long notedNs = System.nanoTime();

    Taken(LastTimes times) {
      this.times = times;
    }

    void take(Variable variable, DataValue said) throws IOException, InterruptedException {
      Optional<Reading> reading = variable.reading(said, inlet.nowMs());
      if (reading.isPresent()) {
        given.add(inlet.take(reading.get()));
        readings.add(reading.get());
      } else {
        Object value = said.getValue().getValue();
        given.add(
            inlet.refuse(
                String.valueOf(value).getBytes(StandardCharsets.UTF_8),
                Refusal.ofLine(
                    Reason.BAD_VALUE,
                    variable.item().place() + ": what came is no number; correct 'node'")));
      }
      if (given.size() >= BATCH) {
        keep();
      }
    }

    /** Returns when all is kept; how far that is is noted on disk every second at most. */
    void keep() throws IOException, InterruptedException {
      Kept.all(given);
      long nowMs = inlet.nowMs();
      readings.forEach(r -> times.kept(r.gauge(), Math.min(r.atMs(), nowMs)));
      given.clear();
      readings.clear();
      if (System.nanoTime() - notedNs > NOTED_EVERY_NS) {
        times.write();
        notedNs = System.nanoTime();
      }
    }
  }
}
