package stillwatch.rules.watch;

import stillwatch.rules.well.BuildUp;

/**
 * A build-up as it was just read.
 *
 * @param gauge whose readings it stands on
 * @param atMs when, log time
 * @param shutInMs when the well was shut in, source's time
 * @param buildUp all of it
 * @param review what was read from it
 */
public record Reviewed(
    String gauge, long atMs, long shutInMs, BuildUp.Snapshot buildUp, BuildUp.Review review) {}
