package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.series.Columns;
import stillwatch.alerts.series.LastWord;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.book.Priority;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Pressures;
import stillwatch.rules.survey.Survey;

/**
 * What is read at a glance, as JSON: the live pressure, the counts of unacknowledged alarms, and
 * one word, one number (empty where the word says all) and an age of each sense. What is not known
 * says "no information".
 */
final class GlanceJson {
  private static final String NONE = "no information";
  private static final long TRAIL_MS = 6 * 3_600_000L;
  private static final int TRAIL_POINTS = 90;
  private static final long DAY_MS = 86_400_000;
  private static final int DAY_COLUMNS = 1440;
  private static final double QUIET = 0.1; // the share of a day that the background lies above
  private static final double RAISED_DB = 6; // over the background, twice the sound pressure
  private static final String SOUND = "Sound over background";
  private static final double STEADY = 5; // kPa/h; less is called steady

  private final RoomParts parts;
  private final DisplayUnits units;
  private final ExpectedCourse expected;
  private final List<DeskAlarm> open;
  private final List<DeskAlarm> all;
  private final Optional<LivePressure> live;
  private final long logMs;
  private final double staleS; // how long ago the last readings came, by this machine's clock

  /** The glance of now, of these alarms and those held or against gauges. */
  GlanceJson(
      RoomParts parts,
      DisplayUnits units,
      ExpectedCourse expected,
      List<DeskAlarm> open,
      List<DeskAlarm> beside) {
    this.parts = parts;
    this.units = units;
    this.expected = expected;
    this.open = open;
    all = new ArrayList<>(open);
    all.addAll(beside);
    live = LivePressure.of(parts, all);
    logMs = parts.picture().logMs();
    staleS = parts.picture().frameAgeMs().map(ms -> ms / 1000.0).orElse(0.0);
  }

  /** The live pressure; empty when no shut-in gauge can be trusted. */
  Optional<LivePressure> live() {
    return live;
  }

  /** Puts everything of the glance. */
  void into(ObjectNode n) {
    ObjectNode counts = n.putObject("unacknowledged");
    for (Priority p : Priority.values()) {
      counts.put(
          p.wire(),
          open.stream().filter(a -> a.state().asks() && a.finding().priority() == p).count());
    }
    live.ifPresent(l -> pressure(n.putObject("live"), l));
    ArrayNode senses = n.putArray("senses");
    course(senses);
    sound(senses);
    warmth(senses);
    seafloor(senses);
    gauges(senses);
    passes(n.putArray("passes"));
  }

  private void passes(ArrayNode into) {
    for (PassIndicator p : parts.picture().passes(parts.plan().well())) {
      if (!p.result().isEmpty()) {
        into.addObject()
            .put("at", Instant.ofEpochMilli(p.atMs()).toString())
            .put("means", p.means())
            .put("result", p.result())
            .put("text", p.text());
      }
    }
  }

  private void pressure(ObjectNode n, LivePressure l) {
    Pressures unit = Pressures.of(parts.plan());
    Bands b = l.bands();
    n.put("gauge", l.gauge()).put("at", Instant.ofEpochMilli(l.atMs()).toString());
    n.put("value", unit.shown(l.kPa())).put("value_text", unit.plain(l.kPa()));
    n.put("unit", unit.sign());
    l.rate()
        .ifPresent(
            r -> n.put("rate", r / unit.conversion().factor()).put("rate_text", l.signed(r)));
    n.put("band", l.band().name().toLowerCase(Locale.ROOT).replace('_', '-'));
    n.put("band_text", l.band().words());
    n.put("leak_high", unit.shown(b.leakHighKPa())).put("intact_low", unit.shown(b.intactLowKPa()));
    n.put("ceiling", unit.shown(b.ceilingKPa()));
    expected
        .at(l.hoursShutIn())
        .ifPresent(
            e ->
                n.put("expected", unit.shown(e.middle()))
                    .put("expected_low", unit.shown(e.low()))
                    .put("expected_high", unit.shown(e.high())));
    l.lowSinceMs()
        .ifPresent(
            ms ->
                n.put("low_since", Instant.ofEpochMilli(ms).toString())
                    .put(
                        "low_full",
                        Instant.ofEpochMilli(ms + (long) (1000 * l.lowOfS())).toString()));
    n.put("low_s", l.lowSinceMs().map(ms -> (l.atMs() - ms) / 1000.0).orElse(0.0));
    n.put("low_of_s", l.lowOfS());
    n.put("text", l.text());
    double[] trail = l.trail(TRAIL_MS);
    ArrayNode points = n.putArray("trail");
    int step = Math.max(1, trail.length / TRAIL_POINTS);
    for (int i = trail.length - 1; i >= 0; i -= step) {
      if (Double.isFinite(trail[i])) {
        points
            .addArray()
            .add((trail.length - 1 - i) * l.columnMs() / 1000)
            .add(Math.round(1000 * unit.shown(trail[i])) / 1000.0);
      }
    }
  }

  private void sense(
      ArrayNode into, String name, String word, String number, @Nullable Double ageS, boolean bad) {
    ObjectNode n = into.addObject().put("name", name).put("word", word).put("number", number);
    n.put("abnormal", bad);
    if (ageS != null) {
      n.put("age_s", Math.max(0, ageS) + staleS);
    }
  }

  private boolean speaks(String sense) {
    return all.stream()
        .anyMatch(a -> a.standing().lasts() && sense.equals(a.finding().meaning().sense()));
  }

  private void course(ArrayNode into) {
    if (live.isEmpty() || live.get().rate().isEmpty()) {
      sense(into, "Pressure course", NONE, "", null, true);
      return;
    }
    double rate = live.get().rate().getAsDouble();
    String word = rate < -STEADY ? "falling" : rate > STEADY ? "rising" : "steady";
    double age = (logMs - live.get().atMs()) / 1000.0;
    boolean bad = speaks("pressure");
    sense(into, "Pressure course", word, live.get().rateText(), age, bad);
  }

  /** The trusted gauges of a kind that have a value. */
  private List<GaugePlan> trusted(Kind kind) {
    return parts.plan().gauges().stream()
        .filter(g -> g.kind() == kind && SpeakingGauge.trusted(g, all))
        .filter(
            g ->
                parts
                    .picture()
                    .lastWord(g.id())
                    .filter(w -> Double.isFinite(w.value()))
                    .isPresent())
        .toList();
  }

  private void sound(ArrayNode into) {
    List<GaugePlan> gauges = trusted(Kind.SOUND);
    double most = Double.NEGATIVE_INFINITY;
    double age = 0;
    for (GaugePlan g : gauges) {
      LastWord word = parts.picture().lastWord(g.id()).orElseThrow();
      most = Math.max(most, word.value() - quietest(g.id()));
      age = Math.max(age, (logMs - word.receivedMs()) / 1000.0);
    }
    if (!Double.isFinite(most)) {
      sense(into, SOUND, NONE, "", null, true);
      return;
    }
    boolean loud = speaks("sound");
    String number = String.format(Locale.ROOT, "%+.0f dB", most).replace("-", "−");
    boolean raised = most > RAISED_DB;
    sense(into, SOUND, loud ? "alarm" : raised ? "raised" : "quiet", number, age, loud || raised);
  }

  /** The level that nine tenths of the last day's minutes lie above, dB. */
  private double quietest(String id) {
    Columns day = parts.picture().columns(List.of(id), DAY_MS, DAY_COLUMNS);
    double[] low = day.lows().getOrDefault(id, new double[0]);
    double[] known = Arrays.stream(low).filter(Double::isFinite).sorted().toArray();
    return known.length == 0 ? Double.NaN : known[(int) (QUIET * known.length)];
  }

  private void warmth(ArrayNode into) {
    List<GaugePlan> gauges = trusted(Kind.TEMPERATURE);
    if (gauges.isEmpty()) {
      sense(into, "Warmth", NONE, "", null, true);
      return;
    }
    GaugePlan g = gauges.get(0);
    LastWord word = parts.picture().lastWord(g.id()).orElseThrow();
    boolean warm = speaks("heat");
    String number =
        String.format(Locale.ROOT, "%.1f ", units.conversion(g.kind()).fromBase(word.value()))
            + units.unit(g.kind()).replace("Cel", "°C");
    double age = (logMs - word.receivedMs()) / 1000.0;
    sense(into, "Warmth", warm ? "warming" : "normal", number, age, warm);
  }

  private void seafloor(ArrayNode into) {
    List<Survey.Thing> fresh = parts.picture().survey().fresh();
    if (!fresh.isEmpty()) {
      long sinceMs = fresh.stream().mapToLong(Survey.Thing::sinceMs).min().orElse(logMs);
      String number = fresh.size() + " since the closing";
      sense(into, "Seafloor", "NEW", number, (logMs - sinceMs) / 1000.0, true);
      return;
    }
    List<PassIndicator> passes = parts.picture().passes(parts.plan().well());
    Optional<PassIndicator> worst =
        passes.stream().filter(p -> p.result().equals("adverse")).findFirst();
    PassIndicator p = worst.or(() -> passes.stream().findFirst()).orElse(null);
    if (p == null) {
      sense(into, "Seafloor", "no pass planned", "", null, true);
      return;
    }
    String number =
        !Double.isFinite(p.overdueS())
            ? "no next pass"
            : p.overdueS() > 0
                ? "OVERDUE since " + minute(logMs - (long) (1000 * p.overdueS()))
                : "next due " + minute(logMs - (long) (1000 * p.overdueS()));
    if (p.result().isEmpty()) {
      sense(into, "Seafloor", "no pass yet", number, null, p.overdueS() > 0);
      return;
    }
    boolean bad = !p.result().equals("clear") || p.overdueS() > 0;
    sense(into, "Seafloor", p.result(), number, (logMs - p.atMs()) / 1000.0, bad);
  }

  private static String minute(long ms) {
    return Instant.ofEpochMilli(ms).toString().substring(11, 16);
  }

  private void gauges(ArrayNode into) {
    List<GaugePlan> plan = parts.plan().gauges();
    long good =
        plan.stream()
            .filter(g -> SpeakingGauge.trusted(g, all))
            .filter(g -> parts.picture().lastWord(g.id()).isPresent())
            .count();
    boolean whole = good == plan.size();
    String number = good + " of " + plan.size() + " trusted";
    Double age = parts.picture().frameAgeMs().isPresent() ? 0.0 : null;
    sense(
        into,
        "Gauges",
        good == 0 ? NONE : whole ? "all trusted" : "some excluded",
        number,
        age,
        !whole);
  }
}
