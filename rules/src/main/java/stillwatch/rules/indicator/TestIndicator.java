package stillwatch.rules.indicator;

import java.util.List;

/**
 * How far the test has come.
 *
 * @param phase the phase it is in
 * @param refusedPhase the phase that was last typed and not taken, in a sentence that says why;
 *     empty when none
 * @param watching whether the well is watched shut in
 * @param reopening whether it is being opened again
 * @param ended whether the deciders ended the test
 * @param endMs when the test is over, log time; of no meaning while it does not run
 * @param endS seconds until then, negative when it is past; infinite while the test does not run
 * @param lengthS the plan's length of the test, seconds
 * @param near what is or was near the well, the newest of each sort
 * @param unconfirmedS seconds since whoever watches from shore last said so; 0 while nobody does
 * @param watcher who watches from shore and by which links, one clause; empty while nobody does
 */
public record TestIndicator(
    String phase,
    String refusedPhase,
    boolean watching,
    boolean reopening,
    boolean ended,
    long endMs,
    double endS,
    double lengthS,
    List<PresenceIndicator> near,
    double unconfirmedS,
    String watcher) {}
