package stillwatch.rules.indicator;

import java.util.List;

/**
 * What the whole well says at one moment. Each of what it lists is an event of its own, sent just
 * before it: a rule takes one group of twins after the other with {@code from TwinsIndicator}, one
 * way of looking with {@code from PassIndicator}.
 *
 * @param well the well's id
 * @param nowMs log time
 * @param feedSilentS how long no frame has come, seconds of log time
 * @param feedSilentSinceMs since when
 * @param feedPeriodS how often a frame should come at least: the shortest period of the plan
 * @param clock what is known of the sources' clocks
 * @param holdPointS when the next hold point is, seconds from now, negative when it is past;
 *     infinite when none is set
 * @param holdPointMs the hold point's time; of no meaning when none is set
 * @param evidence the senses that now speak for a leak, in the order they began
 * @param evidenceOrder the same for people
 * @param twins each group of twins; all hydrophones are one group
 * @param solos what each gauge of the shut-in pressure sees alone
 * @param changes the changes on the account: the open ones, and those just closed
 * @param refusedExplanation why an explanation of the last minute was not taken; empty when none
 *     was refused
 * @param steps what each gauge showed of the last closure step
 * @param seenLate what a backlog showed, once
 * @param buildUps what the build-up of each group of shut-in gauges says, as last read; empty
 *     before the well is shut in
 * @param test how far the test has come
 * @param passes each way of looking at the well that the plan asks for or somebody has used
 * @param departures where the closings and openings of the test depart from the plan
 * @param seabed each thing on the seabed and each means of looking at it
 * @param units each unit that would collect the flow and that somebody has logged
 * @param collected what comes out of a well being opened beside what is collected; empty where that
 *     is not known
 */
public record WellIndicator(
    String well,
    long nowMs,
    double feedSilentS,
    long feedSilentSinceMs,
    double feedPeriodS,
    ClockIndicator clock,
    double holdPointS,
    long holdPointMs,
    List<EvidenceIndicator> evidence,
    String evidenceOrder,
    List<TwinsIndicator> twins,
    List<SoloIndicator> solos,
    List<ChangeIndicator> changes,
    String refusedExplanation,
    List<StepIndicator> steps,
    List<LateIndicator> seenLate,
    List<BuildUpIndicator> buildUps,
    TestIndicator test,
    List<PassIndicator> passes,
    List<DepartureIndicator> departures,
    List<SeabedIndicator> seabed,
    List<UnitIndicator> units,
    List<CollectedIndicator> collected) {}
