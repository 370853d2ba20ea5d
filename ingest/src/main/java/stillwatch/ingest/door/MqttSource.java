package stillwatch.ingest.door;

import com.hivemq.client.mqtt.MqttClientBuilder;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.stream.Stream;
import javax.net.ssl.KeyManagerFactory;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.entrance.Trust;

/**
 * Takes readings from an MQTT broker, at least once, in a session that the broker keeps while the
 * connection is lost or this process is away. A message is acknowledged when its reading is kept;
 * what comes again is known by {@link Inlet}. When something cannot be kept nothing more is taken,
 * so that the broker gives all from there on again, in order, on the next connection.
 */
final class MqttSource implements Source {
  private static final int PATIENCE_S = 10;

  private final MqttPlan plan;
  private final Inlet inlet;
  private final Trust trust;
  private final MqttMessages messages;
  private final Attempts attempts;

  /** What the broker does not allow, a sentence a topic; null while there is no connection. */
  private @Nullable List<String> notAllowed;

  /** What of the messages was told to be lacking. */
  private List<String> told = List.of();

  MqttSource(MqttPlan plan, Inlet inlet, Trust trust) {
    this.plan = plan;
    this.inlet = inlet;
    attempts = new Attempts(inlet);
    this.trust = trust;
    messages = new MqttMessages(plan.topics(), inlet);
  }

  /** One connection of either version of the protocol. */
  interface Session {
    int KEEP_ALIVE_S = 20;

    /**
     * Connects and listens.
     *
     * @return whether the broker allows each topic, in their order; fails with why it takes nobody
     */
    CompletableFuture<List<Boolean>> open();

    /** Publishes, at most once; what does not go out is not told. */
    void send(String topic, byte[] payload);

    /** Ends it; the broker keeps the session. */
    CompletableFuture<Void> leave();
  }

  /** Where a session brings a message, and what tells the broker that it is kept. */
  interface Taking {
    void take(String topic, byte[] payload, boolean kept, Runnable acknowledge);
  }

  @Override
  public void run() {
    attempts.run(this::once);
  }

  /** One connection, until it is lost; whether there was one. */
  private boolean once() throws InterruptedException {
    boolean there = false;
    Session session = null;
    try {
      CompletableFuture<String> lost = new CompletableFuture<>();
      CompletableFuture<String> refusedToKeep = new CompletableFuture<>();
      session = session(lost, refusedToKeep);
      List<String> lacks = plan.notAllowed(session.open().get(PATIENCE_S, TimeUnit.SECONDS));
      if (lacks.size() == plan.topics().size()) {
        inlet.health().lost(String.join("; ", lacks));
        return false;
      }
      there = true;
      begun(lacks);
      messages.connected(session::send);
      Object why = CompletableFuture.anyOf(lost, refusedToKeep, attempts.closing()).get();
      if (why != null) {
        lost(why.toString());
      }
    } catch (ExecutionException | IOException e) {
      lost(why(e));
    } catch (TimeoutException e) {
      lost("the broker " + plan.server() + " did not answer in " + PATIENCE_S + " s");
    } finally {
      over();
      if (session != null) {
        leave(session);
      }
    }
    return there;
  }

  private synchronized void begun(List<String> lacks) {
    notAllowed = lacks;
    told = List.of();
    inlet.health().connected(lacks);
    tell();
  }

  private synchronized void over() {
    notAllowed = null;
  }

  private synchronized void lost(String why) {
    over();
    inlet.health().lost(why);
  }

  /** Tells what is lacking, where that has changed, as long as there is a connection. */
  private synchronized void tell() {
    List<String> lacks = notAllowed;
    List<String> now = messages.lacks();
    if (lacks != null && !now.equals(told)) {
      told = now;
      inlet.health().connected(Stream.concat(lacks.stream(), now.stream()).toList());
    }
  }

  private static void leave(Session session) throws InterruptedException {
    try {
      session.leave().get(1, TimeUnit.SECONDS);
    } catch (ExecutionException | TimeoutException e) {
      // it is lost already
    }
  }

  private Session session(CompletableFuture<String> lost, CompletableFuture<String> refusedToKeep)
      throws IOException {
    MqttClientBuilder builder =
        MqttServer.client(plan.server(), plan.client(), trust, key())
            .addDisconnectedListener(c -> lost.complete(String.valueOf(c.getCause().getMessage())));
    Taking taking =
        (topic, payload, kept, acknowledge) -> {
          if (refusedToKeep.isDone()) {
            return;
          }
          var unused =
              messages
                  .take(topic, payload, kept)
                  .whenComplete(
                      (done, fault) -> {
                        if (fault == null) {
                          acknowledge.run();
                          tell();
                        } else {
                          refusedToKeep.complete("a reading cannot be kept: " + why(fault));
                        }
                      });
        };
    byte @Nullable [] password = password(plan.password());
    return plan.version() == 5
        ? new Mqtt5Session(plan, builder, password, taking)
        : new Mqtt3Session(plan, builder, password, taking);
  }

  private @Nullable KeyManagerFactory key() throws IOException {
    Path certificate = plan.certificate();
    Path key = plan.key();
    return certificate == null || key == null ? null : ClientKey.of(certificate, key);
  }

  private static byte @Nullable [] password(@Nullable Path file) throws IOException {
    return file == null ? null : PasswordFile.read(file).getBytes(StandardCharsets.UTF_8);
  }

  private String why(Throwable fault) {
    return MqttFault.why(fault, plan.server());
  }

  @Override
  public void close() {
    attempts.close();
  }
}
