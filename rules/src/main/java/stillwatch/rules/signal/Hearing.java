package stillwatch.rules.signal;

/**
 * A sound level against its background; NaN for other kinds and until known.
 *
 * @param rise how far it stands over the background, dB
 * @param background the background, dB
 */
public record Hearing(double rise, double background) {}
