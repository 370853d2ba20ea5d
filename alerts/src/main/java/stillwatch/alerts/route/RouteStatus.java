package stillwatch.alerts.route;

/**
 * How a route is doing.
 *
 * @param name the route's name
 * @param waiting how many deliveries wait
 * @param failing whether one of them has failed at least once
 * @param fault why the oldest waiting one failed last; empty when it has not
 */
public record RouteStatus(String name, long waiting, boolean failing, String fault) {}
