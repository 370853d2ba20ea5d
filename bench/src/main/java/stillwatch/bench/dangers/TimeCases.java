package stillwatch.bench.dangers;

import java.util.ArrayList;
import java.util.List;

/** Dangers that lie in clocks and in what comes late. */
final class TimeCases {
  private static final String FUTURE = "Time: one message from the future may not blind a gauge";
  private static final String BACK = "Time: clocks that step back are re-timed by reception";
  private static final String LATE = "Time: a backlog that arrives after live data is judged too";

  private TimeCases() {}

  static List<Case> all() {
    return List.of(
        new Case("frame-from-the-future", FUTURE, TimeCases::future),
        new Case("clock-back-an-hour", BACK, TimeCases::back),
        new Case("recorded-future-row", FUTURE, s -> recorded(s, future(s))),
        new Case("recorded-clock-back", BACK, s -> recorded(s, back(s))),
        new Case(
            "recorded-burst",
            "Time: without reception a recording is as good",
            s -> recorded(s, burst(s))),
        new Case("backlog-fell-and-returned", LATE, TimeCases::backlog),
        new Case("backlog-sound-rose", LATE, TimeCases::backlogSound),
        new Case("outage-and-loss-stays", LATE, TimeCases::outageLoss),
        new Case("outage-quiet", LATE, TimeCases::outageQuiet),
        new Case("low-clock-over-outage", LATE, TimeCases::lowOutage));
  }

  private static List<Claim> future(Scene s) {
    s.soundWell();
    double stray = 300 * Math.floor((s.onsetS - 600) / 300);
    double ahead = s.pick(1, 24, 24 * 365) * Course.HOUR;
    s.aheadS = t -> t == stray ? ahead : 0;
    double visible = s.lose(1000 * s.vary(0.3, 1, 3), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> back(Scene s) {
    s.soundWell();
    double from = s.onsetS - 600;
    s.aheadS = t -> t < from ? 0 : -Course.HOUR;
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  private static List<Claim> burst(Scene s) {
    s.soundWell();
    double visible = s.lose(1000 * s.pick(0.3, 1, 3), s.vary(30, 120, 600));
    return Claim.seenAndKept(s, visible);
  }

  /** The same from a file that does not say when its rows were received. */
  private static List<Claim> recorded(Scene s, List<Claim> claims) {
    s.withoutReception = true;
    return claims;
  }

  private static Link outage(Scene s) {
    return new Link(s.onsetS - 600, s.onsetS + 1200, s.onsetS + 1320, 10);
  }

  private static List<Claim> backlog(Scene s) {
    s.soundWell();
    s.link = outage(s);
    s.soundUntilS = s.onsetS - 600;
    s.well = s.well.plus(Course.hump(s.onsetS, 120, 360, 120, -1000 * s.pick(0.3, 0.8, 3)));
    return List.of(Claim.wellNamedWithin(s.onsetS + 1320, 1800), Claim.nothingStands());
  }

  private static List<Claim> backlogSound(Scene s) {
    s.soundWell();
    s.link = outage(s);
    s.soundUntilS = s.onsetS - 600;
    s.sound(s.onsetS, s.onsetS + s.pick(480, 720, 900), 12);
    return List.of(Claim.wellNamedWithin(s.onsetS + 1320, 1800));
  }

  private static List<Claim> outageLoss(Scene s) {
    s.soundWell();
    s.link = outage(s);
    s.soundUntilS = s.onsetS - 600;
    s.lose(1000 * s.pick(0.3, 1, 3), s.vary(30, 120, 600));
    double live = s.onsetS + 1200;
    return List.of(Claim.highWithin(live, Math.max(300, 4 * s.periodS)), Claim.highStands(live));
  }

  private static List<Claim> outageQuiet(Scene s) {
    s.soundWell();
    s.link = outage(s);
    s.soundUntilS = s.endS;
    return List.of(Claim.quiet());
  }

  private static List<Claim> lowOutage(Scene s) {
    s.plateau(41_500 - s.pick(50, 300, 1500));
    s.soundUntilS = 0;
    double from = Scene.SHUT_S + 3600 + s.onsetS % 300;
    s.link = new Link(from, from + 1800, from + 1920, 10);
    return new ArrayList<>(LowCases.highAfterThreeHours());
  }
}
