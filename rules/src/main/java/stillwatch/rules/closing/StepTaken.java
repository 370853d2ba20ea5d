package stillwatch.rules.closing;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import stillwatch.rules.plan.ClosingStep;

/**
 * A closure step that was logged.
 *
 * @param text as it was logged
 * @param planned the step of the closing list that it was; empty when it is none of the list's
 * @param atMs when, source's time
 * @param undone whether an opening step has taken it back
 * @param before what each gauge of the shut-in pressure read just before, kPa; NaN where nothing
 * @param after what each read when the response was due; empty while it is not
 * @param answer what the pressure did
 * @param departures where the step departs from the plan
 */
public record StepTaken(
    String text,
    Optional<ClosingStep> planned,
    long atMs,
    boolean undone,
    Map<String, Double> before,
    Map<String, Double> after,
    Answer answer,
    List<Departure> departures) {}
