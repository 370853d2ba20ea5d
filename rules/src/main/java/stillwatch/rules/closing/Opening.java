package stillwatch.rules.closing;

import java.util.List;
import java.util.Optional;
import stillwatch.rules.plan.ClosingStep;

/**
 * One opening of the well after a shut-in.
 *
 * @param number from 1
 * @param begunMs when its first step was, source's time
 * @param overMs when a closure step ended it, source's time; empty while none has
 * @param steps the steps in the order of their times
 * @param next the step of the opening list that is next; empty when none is
 * @param heldMs when the hold of the last step is over, source's time
 * @param departures where it departs from the plan, in the order they were known
 */
public record Opening(
    int number,
    long begunMs,
    Optional<Long> overMs,
    List<StepTaken> steps,
    Optional<ClosingStep> next,
    Optional<Long> heldMs,
    List<Departure> departures) {}
