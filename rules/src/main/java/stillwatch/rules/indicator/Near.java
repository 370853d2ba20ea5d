package stillwatch.rules.indicator;

/**
 * What was logged near a moment, and what it can explain of a fall of the shut-in pressure.
 *
 * @param allowed how large a fall the last operations explain now, kPa: zero when none does,
 *     infinite while the well is being reopened and the plan has no opening list
 * @param swell how large a fall the sea's own swing explains now, kPa
 * @param operation the last operation on the well, for people; empty when there was none
 * @param sinceS how long ago that was, seconds of the source's time; infinite when never
 * @param fallen how far the gauge that fell most is below where it stood at the last operation,
 *     kPa; NaN when not known
 * @param presence who is near the well now, for people; empty when nobody is
 * @param reopening what the well loses is judged as that of a well being opened again
 * @param agreed how far below where they stood at the last opening step those gauges are that
 *     agree, kPa; NaN when there is none or not known
 * @param explained how large a fall since that step the plan's opening list explains now, kPa; zero
 *     when it explains none, infinite where no step of it was taken
 * @param step that step, for people; empty when there was none
 */
public record Near(
    double allowed,
    double swell,
    String operation,
    double sinceS,
    double fallen,
    String presence,
    boolean reopening,
    double agreed,
    double explained,
    String step) {}
