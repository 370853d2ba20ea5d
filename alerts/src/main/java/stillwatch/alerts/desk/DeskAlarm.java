package stillwatch.alerts.desk;

import org.jspecify.annotations.Nullable;
import stillwatch.rules.finding.Finding;

/**
 * An alarm as the desk holds it.
 *
 * @param finding the newest word of the rules on it; when its condition is over, {@code
 *     finding.returnedMs()} is set
 * @param raisedSummary the sentence it was raised with
 * @param state where it stands
 * @param acknowledgedBy who acknowledged it
 * @param acknowledgedMs when, the desk's clock, ms since 1970 UTC
 * @param note what the person who acknowledged it wrote
 */
public record DeskAlarm(
    Finding finding,
    String raisedSummary,
    AlarmState state,
    @Nullable String acknowledgedBy,
    @Nullable Long acknowledgedMs,
    String note) {}
