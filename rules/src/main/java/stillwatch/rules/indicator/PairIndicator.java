package stillwatch.rules.indicator;

/**
 * What two twins say of each other, in the base unit of their kind.
 *
 * @param well the well's id
 * @param pair both ids, for example {@code PT-1/PT-2}
 * @param kind what they measure
 * @param nowMs log time
 * @param trusted no gauge rule holds against either
 * @param difference first minus second
 * @param usual their usual difference
 * @param excess how far the difference is from the usual one
 * @param bound how far two good gauges may be
 * @param named one of them has been named as the odd one
 */
public record PairIndicator(
    String well,
    String pair,
    String kind,
    long nowMs,
    boolean trusted,
    double difference,
    double usual,
    double excess,
    double bound,
    boolean named) {}
