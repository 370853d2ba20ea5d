package stillwatch.rules.plan;

import java.util.List;
import java.util.Map;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.unit.Kind;

/**
 * The plan of one well's test. Immutable; made by {@link PlanLoader}.
 *
 * @param well the well's id, the key of its log
 * @param name the well's name for people
 * @param revision the plan's own revision text
 * @param fingerprint first 12 hex digits of the SHA-256 of the file's bytes
 * @param gauges the gauges in the file's order
 * @param bands what pressures mean
 * @param test how the test goes
 * @param rules settings by rule id, only for rules the plan speaks of
 * @param recordings how this well's recordings are laid out
 * @param webhooks where alerts go
 * @param display the UCUM code to show each kind in; a kind left out is shown in its base unit
 */
public record Plan(
    String well,
    String name,
    String revision,
    String fingerprint,
    List<GaugePlan> gauges,
    Bands bands,
    TestPlan test,
    Map<String, RuleSetting> rules,
    RecordingLayout recordings,
    List<Webhook> webhooks,
    Map<Kind, String> display) {}
