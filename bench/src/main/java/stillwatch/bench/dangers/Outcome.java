package stillwatch.bench.dangers;

import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.engine.RuleBook;

/**
 * One run of a case, judged.
 *
 * @param of the case
 * @param broken the claims that were not kept; empty when it came out right
 * @param delayS the delay of the first claim; 0 where time has no say, NaN where it was not kept
 * @param raised what was raised about well and gauges, as rule and priority
 * @param falseAlarms alarms about the well above LOW while it was sound
 * @param soundHours for how long it was
 */
record Outcome(
    Case of,
    int periodS,
    int size,
    int seed,
    List<String> broken,
    double delayS,
    List<String> raised,
    int falseAlarms,
    double soundHours) {

  boolean right() {
    return broken.isEmpty();
  }

  static Outcome of(Case danger, int periodS, int size, int seed, RuleBook book) {
    Scene scene = new Scene(danger.name(), periodS, size, seed);
    List<Claim> claims = danger.script().write(scene);
    return judge(danger, scene, claims, Story.of(scene, book));
  }

  static Outcome judge(Case danger, Scene scene, List<Claim> claims, Story story) {
    List<String> broken = new ArrayList<>();
    double delayS = Double.NaN;
    for (int i = 0; i < claims.size(); i++) {
      double delay = claims.get(i).judge().delayS(story);
      if (Double.isNaN(delay)) {
        broken.add(claims.get(i).text());
      }
      delayS = i == 0 ? delay : delayS;
    }
    List<String> raised = new ArrayList<>();
    int falseAlarms = 0;
    for (RaisedAlarm s : story.said()) {
      if (s.aboutWell() && s.aboveLow()) {
        falseAlarms += s.raisedS() < scene.soundUntilS ? 1 : 0;
      }
      if (s.alarm()) {
        raised.add(s.finding().rule() + " " + s.finding().priority().name().charAt(0));
      }
    }
    return new Outcome(
        danger,
        scene.periodS,
        scene.size,
        scene.seed,
        broken,
        delayS,
        raised,
        falseAlarms,
        scene.soundUntilS / Course.HOUR);
  }
}
