package stillwatch.alerts.route;

import stillwatch.rules.finding.Finding;

/**
 * One thing to deliver.
 *
 * @param seq its place in the outbox
 * @param finding what is said
 * @param attempt how often delivery has been tried, this time counted
 */
public record Delivery(long seq, Finding finding, int attempt) {}
