package stillwatch.rules.indicator;

import java.util.List;

/**
 * What a group of twins says together; a gauge that stands alone is a group of one.
 *
 * @param well the well's id
 * @param twin the group's name
 * @param kind what they measure
 * @param role what they sense: shut-in, ambient, other
 * @param nowMs log time
 * @param atMs the newest source's time among them
 * @param standing how many can be trusted now
 * @param trusted what those say
 * @param intactLow lower edge of the intact band, kPa
 * @param leakHigh upper edge of the leak band, kPa
 * @param ceiling the ceiling, kPa
 */
public record TwinsIndicator(
    String well,
    String twin,
    String kind,
    String role,
    long nowMs,
    long atMs,
    int standing,
    List<GaugeIndicator> trusted,
    double intactLow,
    double leakHigh,
    double ceiling) {}
