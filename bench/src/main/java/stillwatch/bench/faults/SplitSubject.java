package stillwatch.bench.faults;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.station.run.BrokerMain;

/**
 * The spread-out form: a broker, an intake with its spool, two rules processes, the alarm side and
 * a PostgreSQL server, each a process of its own.
 */
final class SplitSubject implements Subject {
  private static final long SAID_WITHIN_MS = 30_000;
  private static final String NO_DATABASE = "the journal's database does not answer";

  private final String brokerAddress;
  private final Part broker;
  private final Database database;
  private final Part intake;
  private final List<Part> rules;
  private final Part alerts;

  /** Starts it in this folder with this plan. */
  SplitSubject(Path folder, Path plan) throws IOException {
    int port = Part.freePort();
    brokerAddress = "127.0.0.1:" + port;
    Path log = folder.resolve("log");
    Files.createDirectories(log);
    broker =
        Part.program(
            BrokerMain.class.getName(),
            List.of(log.toString(), Integer.toString(port), Integer.toString(Part.freePort())),
            folder.resolve("broker.err"));
    database = new Database(folder.resolve("database"));
    List<String> common = List.of("--plan", plan.toString(), "--broker", brokerAddress);
    intake =
        part(folder, "intake", common, "--open", "--spool", folder.resolve("spool").toString());
    rules = List.of(part(folder, "rules", common), part(folder, "rules", common));
    alerts = part(folder, "alerts", common, "--open", "--journal", database.url());
  }

  private static Part part(Path folder, String command, List<String> common, String... own)
      throws IOException {
    List<String> arguments = new ArrayList<>(List.of(command));
    arguments.addAll(common);
    arguments.addAll(List.of(own));
    return Part.command(
        arguments,
        Map.of("STILLWATCH_JOURNAL_USER", Database.USER),
        folder.resolve(command + ".err"));
  }

  @Override
  public Part door() {
    return intake;
  }

  @Override
  public Part desk() {
    return alerts;
  }

  @Override
  public Optional<String> brokerAddress() {
    return broker.alive() ? Optional.of(brokerAddress) : Optional.empty();
  }

  @Override
  public boolean suffers(Kind kind) {
    return kind.group().equals("spread out");
  }

  @Override
  public long happen(Kind kind, Random random, List<String> seen)
      throws IOException, InterruptedException {
    long nowMs = System.currentTimeMillis();
    switch (kind) {
      case INTAKE_KILLED -> again(intake, 0);
      case ONE_RULES_KILLED -> again(rules.get(random.nextInt(2)), random.nextInt(8));
      case ALERTS_KILLED -> again(alerts, random.nextInt(4));
      case LOG_BROKER_KILLED -> again(broker, 1 + random.nextInt(5));
      case BOTH_RULES_KILLED -> {
        rules.get(0).kill();
        again(rules.get(1), random.nextInt(4));
        rules.get(0).start();
      }
      case DATABASE_KILLED -> {
        database.kill();
        told(kind, seen);
        database.start();
      }
      case DATABASE_AWAY -> {
        away(kind, 60 + random.nextInt(120), seen);
        return System.currentTimeMillis();
      }
      case ONE_RULES_STILL -> {
        still(rules.get(random.nextInt(2)), 8 + random.nextInt(8));
        return System.currentTimeMillis();
      }
      case ALERTS_STILL -> {
        still(alerts, 2 + random.nextInt(6));
        return System.currentTimeMillis();
      }
      case LOG_BROKER_STILL -> {
        still(broker, 2 + random.nextInt(14));
        return System.currentTimeMillis();
      }
      case DATABASE_STILL -> {
        database.signal("-STOP");
        try {
          told(kind, seen);
        } finally {
          database.signal("-CONT");
        }
        return System.currentTimeMillis();
      }
      default -> throw new IllegalStateException(kind + " does not happen to this form");
    }
    return nowMs;
  }

  private void away(Kind kind, int forS, List<String> seen)
      throws IOException, InterruptedException {
    database.stop();
    told(kind, seen);
    TimeUnit.SECONDS.sleep(forS);
    database.start();
  }

  private static void again(Part part, int afterS) throws IOException, InterruptedException {
    part.kill();
    TimeUnit.SECONDS.sleep(afterS);
    part.start();
  }

  private static void still(Part part, int forS) throws IOException, InterruptedException {
    part.signal("-STOP");
    try {
      TimeUnit.SECONDS.sleep(forS);
    } finally {
      part.signal("-CONT");
    }
  }

  /** Waits until the page says that the database is away; that it never did is a failure. */
  private void told(Kind kind, List<String> seen) throws InterruptedException {
    if (!alerts.says("/health", NO_DATABASE, SAID_WITHIN_MS)) {
      seen.add("never said \"" + NO_DATABASE + "\": " + kind.words());
    }
  }

  @Override
  public String state() {
    return "broker "
        + broker.alive()
        + ", intake "
        + intake.alive()
        + ", rules "
        + rules.get(0).alive()
        + " and "
        + rules.get(1).alive()
        + ", alerts "
        + alerts.alive();
  }

  @Override
  public void revive() throws IOException {
    for (Part part : List.of(broker, intake, rules.get(0), rules.get(1), alerts)) {
      if (!part.alive()) {
        part.start();
      }
    }
  }

  @Override
  public Records end(List<String> seen) throws InterruptedException {
    for (Part part : List.of(intake, rules.get(0), rules.get(1), alerts)) {
      if (!part.stop()) {
        seen.add("a part did not stop within half a minute");
        part.kill();
      }
    }
    return new Records(
        KafkaBus.open(new BusSettings(brokerAddress, Map.of())),
        Journal.open(database.url(), Database.USER, ""),
        () -> {});
  }

  @Override
  public void close() throws IOException {
    List.of(intake, rules.get(0), rules.get(1), alerts, broker).forEach(Part::close);
    database.close();
  }
}
