package stillwatch.rules.watch;

import java.util.List;
import stillwatch.rules.well.BuildUp;
import stillwatch.rules.well.HydrophoneLevels;

/**
 * A build-up as it was just read.
 *
 * @param gauge whose readings it is based on
 * @param atMs when, log time
 * @param shutInMs when the well was shut in, source's time
 * @param buildUp all of it
 * @param review what was read from it
 * @param heard what the hydrophones heard since the shut-in
 */
public record BuildUpReview(
    String gauge,
    long atMs,
    long shutInMs,
    BuildUp.Snapshot buildUp,
    BuildUp.Review review,
    List<HydrophoneLevels> heard) {}
