package stillwatch.rules.plan;

import java.net.URI;
import stillwatch.rules.book.Priority;

/**
 * A route that posts alerts to an address.
 *
 * @param name unique among the plan's routes
 * @param url where to post
 * @param from the lowest priority that goes out on it
 */
public record Webhook(String name, URI url, Priority from) {}
