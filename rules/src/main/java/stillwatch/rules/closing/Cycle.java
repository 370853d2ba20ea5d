package stillwatch.rules.closing;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.rules.plan.ClosingStep;

/**
 * One closing of the well and the shut-in after it.
 *
 * @param number from 1
 * @param changes what it does otherwise than the one before; empty for the first, and where nobody
 *     decided it as a cycle
 * @param go the last decision on go or no-go before it; empty when there was none
 * @param begunMs when its first step was, source's time
 * @param shutInMs when the well was shut in; empty while it is not
 * @param overMs when it was over: the well opened again, or another cycle decided; empty while it
 *     lasts
 * @param steps the steps in the order of their times
 * @param next the step of the closing list that is next; empty when none is
 * @param heldMs when the hold of the last step is over, source's time
 * @param departures where it departs from the plan, in the order they were known
 * @param hours what each gauge read at the full hours after the shut-in, kPa
 */
public record Cycle(
    int number,
    String changes,
    Optional<Decision> go,
    long begunMs,
    Optional<Long> shutInMs,
    Optional<Long> overMs,
    List<StepTaken> steps,
    Optional<ClosingStep> next,
    Optional<Long> heldMs,
    List<Departure> departures,
    Map<Integer, Map<String, Double>> hours) {}
