package stillwatch.rules.plan;

import java.net.URI;
import java.time.Duration;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.intake.IntakeWell;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.well.WellFacts;

/**
 * The plan of one well's test. Immutable; made by {@link PlanLoader}.
 *
 * @param well the well's id, the key of its log
 * @param name the well's name for people
 * @param revision the plan's own revision text
 * @param fingerprint first 12 hex digits of the SHA-256 of the file's bytes
 * @param gauges the gauges in the file's order
 * @param facts what is known of the well; null where too little is said
 * @param missingFacts what would have to be said
 * @param bands what pressures mean
 * @param test how the test goes
 * @param time how far clocks are believed
 * @param openTelemetry whether anybody on this machine may send readings without a token
 * @param operations what operations may do to the shut-in pressure
 * @param surroundings what the surroundings of the well may do
 * @param rules settings by rule id, only for rules the plan speaks of
 * @param recordings how this well's recordings are laid out
 * @param desk how alarms are handled
 * @param routes where alerts go
 * @param heartbeat where a sign of life goes; null where nowhere
 * @param display the UCUM code to show each kind in; a kind left out is shown in its base unit
 * @param siteZone the time zone that charts may be shown in beside UTC
 * @param sources where readings are fetched from
 * @param reopening how the flow would be collected; empty where the plan does not say
 * @param readiness what must be so before the first step
 * @param closing the steps of the closing in order; empty where the plan has no such list
 * @param opening the steps of an opening in order; empty where the plan has no such list
 */
public record Plan(
    String well,
    String name,
    String revision,
    String fingerprint,
    List<GaugePlan> gauges,
    @Nullable WellFacts facts,
    List<String> missingFacts,
    Bands bands,
    TestPlan test,
    TimePlan time,
    boolean openTelemetry,
    OperationLimits operations,
    Surroundings surroundings,
    Map<String, RuleSetting> rules,
    RecordingLayout recordings,
    DeskPlan desk,
    List<RoutePlan> routes,
    @Nullable Heartbeat heartbeat,
    Map<Kind, String> display,
    Optional<ZoneId> siteZone,
    List<SourcePlan> sources,
    Optional<Reopening> reopening,
    List<Condition> readiness,
    List<ClosingStep> closing,
    List<ClosingStep> opening) {
  /**
   * A sign of life for a watcher outside.
   *
   * @param url asked while the watch can see
   * @param every how often
   */
  public record Heartbeat(URI url, Duration every) {}

  /** What whoever takes telemetry must know of it. */
  public IntakeWell intake() {
    Map<String, IntakeWell.Gauge> known = new HashMap<>();
    gauges.forEach(g -> known.put(g.id(), new IntakeWell.Gauge(g.kind(), g.unit())));
    return new IntakeWell(well, known, time.ahead());
  }

  /** What it says of a rule. */
  public RuleSetting setting(String rule) {
    return rules.getOrDefault(rule, RuleSetting.AS_CATALOGUED);
  }

  /**
   * How long a clock of the room runs, s.
   *
   * @param clock its name, for example {@code low}
   * @throws IllegalArgumentException when no rule's time is that clock's
   */
  public double clockS(Catalogue catalogue, String clock) {
    return catalogue.rules().stream()
        .flatMap(
            r ->
                r.parameters().stream()
                    .filter(p -> clock.equals(p.clock()))
                    .map(p -> setting(r.id()).limits(r).get(p.name())))
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("no rule runs a clock named " + clock));
  }

  /** The same plan with other limits for one rule; its advice is kept. */
  public Plan with(String rule, Map<String, Double> limits) {
    Map<String, RuleSetting> settings = new LinkedHashMap<>(rules);
    settings.put(rule, new RuleSetting(limits, null, setting(rule).advice()));
    return new Plan(
        well,
        name,
        revision,
        fingerprint,
        gauges,
        facts,
        missingFacts,
        bands,
        test,
        time,
        openTelemetry,
        operations,
        surroundings,
        settings,
        recordings,
        desk,
        routes,
        heartbeat,
        display,
        siteZone,
        sources,
        reopening,
        readiness,
        closing,
        opening);
  }
}
