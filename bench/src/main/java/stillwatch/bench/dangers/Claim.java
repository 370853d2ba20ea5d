package stillwatch.bench.dangers;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Predicate;
import java.util.regex.Pattern;

/**
 * What must be true of a story.
 *
 * @param text in words
 * @param judge decides
 */
record Claim(String text, Judge judge) {
  /** Decides whether a story keeps a claim. */
  @FunctionalInterface
  interface Judge {
    /**
     * The seconds from the claim's beginning until it was kept, 0 where time has no say; NaN when
     * it was not.
     */
    double delayS(Story story);
  }

  private static Claim raised(
      String what, double fromS, double withinS, double countFromS, Predicate<RaisedAlarm> which) {
    String text =
        String.format(Locale.ROOT, "%s raised from %.0f s to %.0f s", what, fromS, fromS + withinS);
    return new Claim(
        text,
        story ->
            story.said().stream()
                .filter(s -> s.between(fromS, fromS + withinS) && which.test(s))
                .mapToDouble(s -> s.raisedS() - countFromS)
                .findFirst()
                .orElse(Double.NaN));
  }

  private static Claim none(String what, Predicate<RaisedAlarm> which) {
    return new Claim(what, story -> story.said().stream().noneMatch(which) ? 0 : Double.NaN);
  }

  private static Claim some(String what, Predicate<RaisedAlarm> which) {
    return new Claim(what, story -> story.said().stream().anyMatch(which) ? 0 : Double.NaN);
  }

  /** A HIGH alarm about the well within so many seconds. */
  static Claim highWithin(double fromS, double withinS) {
    return raised("HIGH about the well", fromS, withinS, fromS, s -> s.aboutWell() && s.high());
  }

  /** An alarm about the well above LOW within so many seconds. */
  static Claim aboveLowWithin(double fromS, double withinS) {
    return raised(
        "above LOW about the well", fromS, withinS, fromS, s -> s.aboutWell() && s.aboveLow());
  }

  /** Anything about the well, of whatever priority. */
  static Claim wellNamedWithin(double fromS, double withinS) {
    return raised("anything about the well", fromS, withinS, fromS, RaisedAlarm::aboutWell);
  }

  /** An alarm that names a gauge and is not about the well. */
  static Claim gaugeAlarmWithin(String gauge, double fromS, double withinS) {
    return raised(
        "an alarm about " + gauge,
        fromS,
        withinS,
        fromS,
        s -> !s.aboutWell() && s.alarm() && s.names(gauge));
  }

  /** An alarm about whatever that names a gauge. */
  static Claim alarmNamingWithin(String gauge, double fromS, double withinS) {
    return raised(
        "an alarm that names " + gauge, fromS, withinS, fromS, s -> s.alarm() && s.names(gauge));
  }

  /** An alarm whose sentence or title has a word. */
  static Claim saidWithin(String word, double fromS, double withinS) {
    return raised(
        "an alarm that says '" + word + "'",
        fromS,
        withinS,
        fromS,
        s -> s.alarm() && word(word, s));
  }

  private static boolean word(String word, RaisedAlarm s) {
    String text = s.finding().title() + " " + s.finding().summary();
    return Pattern.compile("\\b" + word + "\\b").matcher(text).find();
  }

  /** Something of a rule whose id begins so. */
  static Claim ruleWithin(String id, double fromS, double withinS) {
    return raised(id, fromS, withinS, fromS, s -> s.finding().rule().startsWith(id));
  }

  /** An alarm of any sort about well or gauges. */
  static Claim alarmWithin(double fromS, double withinS) {
    return raised(
        "any alarm about well or gauges",
        fromS,
        withinS,
        fromS,
        s -> s.alarm() && !s.finding().gauges().isEmpty());
  }

  /** An alarm that says that independent senses agree. */
  static Claim evidenceWithin(double fromS, double withinS) {
    return raised(
        "HIGH leak-evidence",
        fromS,
        withinS,
        fromS,
        s -> s.finding().rule().equals("leak-evidence") && s.high());
  }

  /** A HIGH alarm about the well that was raised since then stands at the end. */
  static Claim highStands(double sinceS) {
    return some(
        "HIGH about the well stands at the end",
        s -> s.aboutWell() && s.high() && s.raisedS() >= sinceS && s.stands());
  }

  /** An alarm above LOW about the well that was raised since then stands at the end. */
  static Claim aboveLowStands(double sinceS) {
    return some(
        "above LOW about the well stands at the end",
        s -> s.aboutWell() && s.aboveLow() && s.raisedS() >= sinceS && s.stands());
  }

  /** An alarm that names a gauge stands at the end. */
  static Claim namedStands(String gauge) {
    return some(
        "an alarm that names " + gauge + " stands at the end",
        s -> s.alarm() && s.names(gauge) && s.stands());
  }

  /** Nothing about the well above LOW stands at the end. */
  static Claim nothingStands() {
    return none(
        "nothing about the well above LOW stands at the end",
        s -> s.aboutWell() && s.aboveLow() && s.stands());
  }

  /** Nothing HIGH about the well stands at the end. */
  static Claim noHighStands() {
    return none(
        "nothing HIGH about the well stands at the end",
        s -> s.aboutWell() && s.high() && s.stands());
  }

  /** No alarm about the well above LOW is ever raised. */
  static Claim quiet() {
    return none("no alarm about the well above LOW", s -> s.aboutWell() && s.aboveLow());
  }

  /** No HIGH alarm about anything. */
  static Claim noHighAtAll() {
    return none("no HIGH about anything", RaisedAlarm::high);
  }

  /** No HIGH alarm about the well is raised since then. */
  static Claim noHigh(double sinceS) {
    return none("no HIGH about the well", s -> s.aboutWell() && s.high() && s.raisedS() >= sinceS);
  }

  /** A loss is seen as HIGH in time, and what was seen still stands at the end. */
  static List<Claim> seenAndKept(Scene scene, double visibleS) {
    return seenAndKept(scene, visibleS, scene.patienceS());
  }

  /** The same with another patience. */
  static List<Claim> seenAndKept(Scene scene, double visibleS, double patienceS) {
    List<Claim> claims = new ArrayList<>();
    claims.add(
        raised(
            "HIGH about the well",
            scene.onsetS,
            visibleS - scene.onsetS + patienceS,
            scene.onsetS,
            s -> s.aboutWell() && s.high()));
    claims.add(highStands(scene.onsetS));
    return claims;
  }
}
