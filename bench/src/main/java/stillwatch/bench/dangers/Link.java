package stillwatch.bench.dangers;

/**
 * How frames come: when each is received, and by how much its stamp is off.
 *
 * @param outFromS the link is out from then on
 * @param outToS until then
 * @param backlogFromS when the frames of the outage begin to come, after live ones
 * @param backlogRate how many times faster than they were made
 */
record Link(double outFromS, double outToS, double backlogFromS, double backlogRate) {
  /** Nothing amiss. */
  static final Link SOUND = new Link(0, 0, 0, 1);

  /** When a frame made then is received. */
  double receivedS(double s) {
    return s < outFromS || s >= outToS
        ? s
        : backlogFromS + Math.floor((s - outFromS) / backlogRate);
  }
}
