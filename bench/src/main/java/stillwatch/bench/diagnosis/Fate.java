package stillwatch.bench.diagnosis;

/**
 * What is the matter with a well of the study.
 *
 * @param name for the table
 * @param share what leaks, as a share of the rate before the closing; 0 when nothing does
 * @param toSea where to, else into rock
 * @param late it begins 3 to 8 hours after the shut-in, else it is as old as the flow
 * @param depleted the reservoir has lost 1 to 3 MPa more than the facts say
 */
record Fate(String name, double share, boolean toSea, boolean late, boolean depleted) {}
