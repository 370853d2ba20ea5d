package stillwatch.rules.indicator;

/**
 * What is known from one way of looking at the well, for example by camera or sonar.
 *
 * @param well the well's id
 * @param means the way
 * @param nowMs log time
 * @param result what the last pass showed: clear, adverse, inconclusive; empty when there was none
 * @param atMs when it was, source's time; of no meaning when there was none
 * @param text what the observer said
 * @param observer who observed
 * @param overdueS how late the next pass is, seconds, negative before it is due; minus infinity
 *     when the plan asks for none
 */
public record PassIndicator(
    String well,
    String means,
    long nowMs,
    String result,
    long atMs,
    String text,
    String observer,
    double overdueS) {}
