package stillwatch.rules.well;

/**
 * What the facts say of a hydrophone's hearing.
 *
 * @param gauge its id
 * @param background what it hears at its quietest without a leak, dB re 1 µPa
 * @param onePercent what it would hear of a leak into the sea of one per cent of the flow, all else
 *     silent, dB re 1 µPa
 */
public record Hydrophone(String gauge, Uncertain background, Uncertain onePercent) {}
