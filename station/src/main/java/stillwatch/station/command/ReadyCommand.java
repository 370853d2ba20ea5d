package stillwatch.station.command;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.plan.Condition;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.ready.Readiness;
import stillwatch.rules.ready.Standing;
import stillwatch.rules.replay.PlannedRecording;
import stillwatch.rules.replay.Replay;
import stillwatch.rules.service.RulesService.WatchedWell;
import stillwatch.station.option.BrokerOption;
import stillwatch.station.option.Format;
import stillwatch.station.option.InputException;
import stillwatch.station.option.PlanOption;
import stillwatch.station.output.Cautions;
import stillwatch.station.run.KeptLog;
import stillwatch.station.run.Shutdown;

/** What is open before the first step of the test. */
@Command(
    name = "ready",
    mixinStandardHelpOptions = true,
    description = {
      "Says which conditions of a plan's readiness are open before the first step, by the plan itself and by the well's log: a recording, the log of a broker, or the folder of a stopped watch. Exit 1 while anything is open.",
      "A condition is ticked by an observation in the log: by 'readiness', result clear, the condition's name as text, and the name of who ticks it."
    },
    footer = {"", Cautions.TEXT})
public final class ReadyCommand implements Callable<Integer> {
  @Mixin private PlanOption plan = new PlanOption();
  @Mixin private BrokerOption broker = new BrokerOption();

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "The folder of a watch that is stopped.")
  private @Nullable Path data;

  @Option(
      names = "--format",
      paramLabel = "FORM",
      description = "text (default) or ndjson: one JSON object a condition.")
  private Format format = Format.TEXT;

  @Parameters(
      arity = "0..1",
      paramLabel = "RECORDING",
      description = "A CSV or CSV.gz file that holds the log, or an .ndjson as log export writes.")
  private @Nullable Path recording;

  @Override
  public Integer call() throws IOException {
    WatchedWell watched = plan.load();
    if (watched.plan().readiness().isEmpty()) {
      throw new InputException(
          "the plan has no 'readiness:', so nothing can be open; list the conditions under it (docs/plan.md)");
    }
    if ((recording == null ? 0 : 1) + (data == null ? 0 : 1) + (broker.given() ? 1 : 0) > 1) {
      throw new InputException("give one log: a recording, --data or --broker");
    }
    Readiness readiness = new Readiness(watched.plan());
    boolean log = read(watched, readiness);
    List<Standing> standings =
        readiness.standings().stream().sorted(Comparator.comparing(Standing::met)).toList();
    readiness
        .begun()
        .ifPresent(
            at ->
                System.err.println(
                    "The first closure step was at "
                        + at
                        + ": this is how things stood before it."));
    readiness.strayTicks().forEach(line -> System.err.println("WARNING: " + line));
    if (format == Format.NDJSON) {
      standings.forEach(ReadyCommand::ndjson);
    } else {
      text(watched.plan(), standings, log);
      decided(readiness);
      System.out.println(Cautions.TEXT);
    }
    return standings.stream().allMatch(Standing::met) ? 0 : 1;
  }

  /** Brings the log to the readiness; false where none was given. */
  private boolean read(WatchedWell watched, Readiness readiness) throws IOException {
    Path file = recording;
    if (file != null) {
      Problems problems = new Problems();
      run(watched, PlannedRecording.open(file, watched.plan(), problems), readiness);
      problems.report().forEach(System.err::println);
      return true;
    }
    Path folder = data;
    if (folder == null && !broker.given()) {
      return false;
    }
    Shutdown shutdown = new Shutdown();
    try {
      Path kept = folder == null ? Path.of("") : folder;
      run(
          watched,
          KeptLog.of(KeptLog.open(broker, kept, shutdown), watched.plan().well()),
          readiness);
    } finally {
      shutdown.end();
    }
    return true;
  }

  private static void run(WatchedWell watched, TelemetrySource log, Readiness readiness)
      throws IOException {
    try (log) {
      TelemetrySource heard =
          new TelemetrySource() {
            @Override
            public @Nullable Telemetry next() throws IOException {
              Telemetry entry = log.next();
              if (entry != null) {
                readiness.accept(entry);
              }
              return entry;
            }

            @Override
            public void close() {} // the log is closed by whoever opened it
          };
      Replay.run(watched.plan(), watched.book(), heard, readiness::accept);
    }
  }

  private static void text(Plan plan, List<Standing> standings, boolean log) {
    long open = standings.stream().filter(s -> !s.met()).count();
    System.out.printf(
        Locale.ROOT,
        "%s, plan %s: %s%n%n",
        plan.name(),
        plan.revision(),
        open == 0
            ? "every condition of the plan's readiness is met"
            : open + " of " + standings.size() + " conditions of the plan's readiness open");
    for (Standing s : standings) {
      Condition c = s.condition();
      System.out.printf(
          "%-5s %s: %s (owner: %s)%n      %s%n",
          s.met() ? "met" : "OPEN", c.name(), c.text(), c.owner(), s.why());
    }
    if (!log) {
      System.out.printf(
          "%nNo log was given, so only what the plan itself shows can be met: give a recording, --data or --broker.%n");
    }
  }

  private static void decided(Readiness readiness) {
    System.out.printf(
        "%nWhether the test begins is decided by the people in charge, not by this list. %s%n",
        readiness
            .decided()
            .map(
                d ->
                    "Logged: %s, by %s at %s: %s."
                        .formatted(
                            d.choice().wire(), d.by(), Instant.ofEpochMilli(d.atMs()), d.why()))
            .orElse("No go or no-go is in the log."));
  }

  private static void ndjson(Standing s) {
    System.out.println(
        new ObjectMapper()
            .createObjectNode()
            .put("name", s.condition().name())
            .put("condition", s.condition().text())
            .put("owner", s.condition().owner())
            .put("known-by", s.condition().knownBy().wire())
            .put("met", s.met())
            .put("why", s.why()));
  }
}
