package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.series.LastWord;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.OpenChange;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.Pressures;
import stillwatch.rules.survey.Survey;

/**
 * What each sense says for a hold point, side by side: supports that the well is intact, supports a
 * leak, or nothing. It weighs nothing against anything; a pass that did not happen is missing, and
 * quiet is no support.
 */
final class EvidenceTable {
  private static final ObjectMapper JSON = new ObjectMapper();

  /** What a row supports. */
  private enum Supports {
    INTACT,
    LEAK,
    NOTHING,
    MISSING
  }

  private static final String PRESSURE = "pressure";

  private static final int LOOKED_AT = 400;

  private final RoomParts parts;
  private final Plan plan;
  private final List<DeskAlarm> open;
  private final long logMs;
  private final ArrayNode rows = JSON.createArrayNode();

  EvidenceTable(RoomParts parts) {
    this.parts = parts;
    plan = parts.plan();
    open = new ArrayList<>(parts.board().open(LOOKED_AT));
    open.addAll(parts.board().heldOrAgainstGauges(LOOKED_AT));
    logMs = parts.picture().logMs();
  }

  /** All rows. */
  ArrayNode rows() {
    changes();
    level();
    course();
    sound();
    by(Kind.TEMPERATURE, "heat", "No gauge warms beyond its limit.");
    by(Kind.TILT, "tilt", "The structure keeps its tilt.");
    passes();
    seabed();
    gauges();
    diagnosis();
    return rows;
  }

  private void row(String sense, Supports supports, String says, @Nullable Long atMs, String link) {
    ObjectNode n =
        rows.addObject()
            .put("sense", sense)
            .put("supports", supports.name().toLowerCase(Locale.ROOT))
            .put("says", says)
            .put("link", link);
    if (atMs != null) {
      n.put("at", Instant.ofEpochMilli(atMs).toString()).put("age_s", (logMs - atMs) / 1000.0);
    }
  }

  private boolean trusted(GaugePlan g) {
    return SpeakingGauge.trusted(g, open);
  }

  private Optional<GaugePlan> speaking() {
    return SpeakingGauge.of(parts, open);
  }

  /** What the well lost and nobody has explained, however old. */
  private void changes() {
    for (OpenChange c : DeskAlarm.openChanges(open)) {
      String sense = c.voice().meaning().sense();
      if (sense != null && !sense.equals(PRESSURE)) {
        continue; // it has a row of its own
      }
      row(
          "open change",
          Supports.LEAK,
          c.voice().summary() + " Change " + c.id() + ".",
          c.onsetMs(),
          c.voice().id());
    }
  }

  private void level() {
    Optional<GaugePlan> gauge = speaking();
    if (gauge.isEmpty()) {
      row("pressure: level", Supports.MISSING, "No shut-in gauge can be trusted now.", null, "");
      return;
    }
    LastWord word = parts.picture().lastWord(gauge.get().id()).orElseThrow();
    Optional<Long> shutIn = parts.picture().shutInMs();
    Pressures unit = Pressures.of(plan);
    String value = unit.plain(word.value()) + " " + unit.sign();
    String by = gauge.get().id() + " shows " + value;
    if (shutIn.isEmpty()) {
      row(
          "pressure: level",
          Supports.NOTHING,
          by + "; the well is not shut in, or nobody logged it.",
          word.atMs(),
          gauge.get().id());
      return;
    }
    Bands bands = plan.bands().after((word.atMs() - shutIn.get()) / 3_600_000.0);
    String low = unit.plain(bands.intactLowKPa()) + " " + unit.sign();
    if (word.value() >= bands.intactLowKPa()) {
      row(
          "pressure: level",
          Supports.INTACT,
          by + ", at or above what an intact well shows from (" + low + ").",
          word.atMs(),
          gauge.get().id());
    } else if (word.value() <= bands.leakHighKPa()) {
      row(
          "pressure: level",
          Supports.LEAK,
          by + ", where a leaking well would stand.",
          word.atMs(),
          gauge.get().id());
    } else {
      row(
          "pressure: level",
          Supports.NOTHING,
          by + ", between a leaking and an intact well: ambiguous (intact from " + low + ").",
          word.atMs(),
          gauge.get().id());
    }
  }

  private void alarms(String name, String sense, String none) {
    List<DeskAlarm> lasting =
        open.stream()
            .filter(a -> a.standing().lasts() && sense.equals(a.finding().meaning().sense()))
            .toList();
    if (lasting.isEmpty()) {
      row(name, Supports.NOTHING, none, logMs, "");
      return;
    }
    for (DeskAlarm a : lasting) {
      Finding f = a.finding();
      String held = a.state().held() ? " (shelved, suppressed or out of service)" : "";
      row(name, Supports.LEAK, f.title() + held + ": " + f.summary(), f.onsetMs(), f.id());
    }
  }

  private void course() {
    alarms(
        "pressure: course",
        PRESSURE,
        speaking().isEmpty()
            ? "No shut-in gauge can be trusted, so no course is judged."
            : "No rule sees the pressure fall, stand low or fall short.");
  }

  private void sound() {
    by(
        Kind.SOUND,
        "sound",
        "Nothing stands over the background; that speaks neither for nor against a leak.");
  }

  /** A sense that gauges of one kind serve. */
  private void by(Kind kind, String sense, String quiet) {
    List<GaugePlan> gauges = plan.gauges().stream().filter(g -> g.kind() == kind).toList();
    if (gauges.isEmpty()) {
      row(sense, Supports.MISSING, "The plan has no gauge of it.", null, "");
    } else if (gauges.stream().noneMatch(this::trusted)) {
      row(sense, Supports.MISSING, "No gauge of it can be trusted now.", null, "");
    } else {
      alarms(sense, sense, quiet);
    }
  }

  private void passes() {
    for (PassIndicator p : parts.picture().passes(plan.well())) {
      String sense = "seen by " + p.means();
      boolean overdue = p.overdueS() > 0;
      if (p.result().isEmpty()) {
        row(
            sense,
            Supports.MISSING,
            overdue
                ? "Nobody has looked; it is overdue by " + span(p.overdueS()) + "."
                : "Nobody has looked yet.",
            null,
            "");
        continue;
      }
      String said =
          p.result()
              + (p.text().isEmpty() ? "" : ": " + p.text())
              + (p.observer().isEmpty() ? "" : " (" + p.observer() + ")");
      if (p.result().equals("adverse")) {
        row(sense, Supports.LEAK, said, p.atMs(), "");
      } else if (overdue) {
        row(
            sense,
            Supports.MISSING,
            "The last pass is too old, the next overdue by "
                + span(p.overdueS())
                + ". It said "
                + said,
            p.atMs(),
            "");
      } else if (beforeTheShutIn(p)) {
        row(
            sense,
            Supports.NOTHING,
            said + ". Before the shut-in: no information about after it.",
            p.atMs(),
            "");
      } else {
        row(
            sense,
            p.result().equals("clear") ? Supports.INTACT : Supports.NOTHING,
            said,
            p.atMs(),
            "");
      }
    }
  }

  /** What the surveys of the seabed say; no row where there was none since the closing. */
  private void seabed() {
    Survey survey = parts.picture().survey();
    Optional<Survey.Pass> last =
        survey.passes().stream().filter(p -> !p.before().orElse(true)).reduce((a, b) -> b);
    if (last.isEmpty()) {
      return;
    }
    List<Survey.Thing> fresh = survey.fresh();
    String without =
        survey.comparedWithNone().stream().map(w -> " " + w).collect(Collectors.joining());
    row(
        "seabed survey",
        fresh.isEmpty() ? Supports.NOTHING : Supports.LEAK,
        (fresh.isEmpty()
                ? "Nothing is known to be new since the closing."
                : fresh.size()
                    + " new since the closing: "
                    + fresh.stream().map(Survey.Thing::name).collect(Collectors.joining(", "))
                    + ".")
            + without,
        last.get().toMs(),
        "");
  }

  private boolean beforeTheShutIn(PassIndicator p) {
    return parts
        .picture()
        .shutInMs()
        .map(at -> p.atMs() < at)
        .orElseGet(() -> parts.picture().open());
  }

  private static String span(double seconds) {
    long minutes = Math.round(seconds / 60);
    return minutes < 120 ? minutes + " min" : minutes / 60 + " h " + minutes % 60 + " min";
  }

  private void gauges() {
    List<String> sick = plan.gauges().stream().filter(g -> !trusted(g)).map(GaugePlan::id).toList();
    int all = plan.gauges().size();
    row(
        "gauges",
        Supports.NOTHING,
        sick.isEmpty()
            ? "All " + all + " are without a gauge alert."
            : sick.size() + " of " + all + " cannot be trusted: " + String.join(", ", sick) + ".",
        logMs,
        "");
  }

  private void diagnosis() {
    String sense = "what may explain it";
    Optional<JsonNode> review = parts.review().words();
    if (review.isEmpty()) {
      row(sense, Supports.MISSING, "The build-up has not been read yet.", null, "review");
      return;
    }
    JsonNode r = review.get();
    boolean leaking = r.path("says").asText().equals("leaking");
    String verdict = r.path("verdict").asText(r.path("leads").asText());
    long atMs = Instant.parse(r.path("at").asText()).toEpochMilli();
    if (parts.reviewOfThisShutIn().isEmpty()) {
      row(sense, Supports.NOTHING, "Of the shut-in before: " + verdict, atMs, "review");
      return;
    }
    row(sense, leaking ? Supports.LEAK : Supports.NOTHING, verdict, atMs, "review");
  }
}
