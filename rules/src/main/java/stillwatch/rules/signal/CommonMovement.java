package stillwatch.rules.signal;

/**
 * How far one series shows the movement of another, over the newest increments of means of blocks
 * counted from 1970 UTC. Generalised least squares of own increments on the other's (A. C. Aitken,
 * Proc. Roy. Soc. Edinburgh 55, 1935, 42-48, from memory): increments of means with independent
 * noise of variance {@code v} have variance {@code 2v} and covariance {@code −v} with their
 * neighbours; to this comes a random walk, as large as brings the weighted squares left over to
 * what their number allows, so that a gauge which wanders is not held for one that follows. The
 * factors are taken from the newest increment backwards, so that one pass judges every stretch that
 * ends now; the shortest one that is significant dates the evidence. Not thread-safe.
 */
final class CommonMovement {
  /** The course of its own beside which a series shows the movement, and how much it must show. */
  enum Beside {
    /** None: every movement is common. */
    NOTHING(0, 0.5, 2, 5),

    /** A drift that bends slowly, a parabola: taken out of both, what is left must be common. */
    DRIFT(2, 0.5, 2, 4),

    /** A cubic, and an unknown share. */
    COURSE(3, 0, 1.2, 5);

    private final int terms;
    private final double leastGain;
    private final double mostGain;
    private final double sigmas;

    Beside(int terms, double leastGain, double mostGain, double sigmas) {
      this.terms = terms;
      this.leastGain = leastGain;
      this.mostGain = mostGain;
      this.sigmas = sigmas;
    }
  }

  private static final int LEAST_INCREMENTS = 6;
  private static final double MOVED_SIGMAS = 6;
  private static final double MOST_NOISE_GAIN = 2;
  private static final double MISSED_GAIN = 0.2;
  private static final int MOST_TRIALS = 16;
  private static final double WALK_PRECISION = 0.001;

  private final long blockMs;
  private final int size;
  private final int leastStretch;
  private final Beside beside;
  private final long[] endMs;
  private final long[] index;
  private final double[] own;
  private final double[] other;
  private final int[] readings;
  private final double[] noise;
  private final WeightedSums sums;
  private int blocks;

  /** The first of the blocks that are weighed. */
  private int from;

  private long block = Long.MIN_VALUE;
  private long lastMs;
  private double sumOwn;
  private double sumOther;
  private int inBlock;
  private double walk;
  private int freedom;
  private double gain = Double.NaN;
  private double moved;
  private long provenMs = Long.MIN_VALUE;
  private long missedMs = Long.MIN_VALUE;
  private long missedRiseMs = Long.MIN_VALUE;

  /**
   * A comparison over so many increments of blocks so long.
   *
   * @param leastStretch the fewest increments that prove anything
   * @param beside the course of its own, which is taken out of every stretch first. Beside a course
   *     nobody knows what own should have shown, so that nothing is missed
   */
  CommonMovement(long blockMs, int increments, int leastStretch, Beside beside) {
    this.blockMs = blockMs;
    this.size = increments + 1;
    this.leastStretch = leastStretch;
    this.beside = beside;
    endMs = new long[size];
    index = new long[size];
    own = new double[size];
    other = new double[size];
    readings = new int[size];
    noise = new double[size];
    sums = new WeightedSums(beside.terms);
  }

  /** Takes two finite values of one time; says whether a block has ended, which is to be judged. */
  boolean accept(long atMs, double ownValue, double otherValue) {
    long now = Math.floorDiv(atMs, blockMs);
    boolean ended = false;
    if (now != block) {
      ended = inBlock > 0;
      if (ended) {
        keep();
      }
      if (blocks > 0 && now - index[blocks - 1] >= size) {
        blocks = 0;
      }
      block = now;
    }
    sumOwn += ownValue;
    sumOther += otherValue;
    inBlock++;
    lastMs = atMs;
    return ended && blocks > 0;
  }

  private void keep() {
    if (blocks == size) {
      System.arraycopy(endMs, 1, endMs, 0, size - 1);
      System.arraycopy(index, 1, index, 0, size - 1);
      System.arraycopy(own, 1, own, 0, size - 1);
      System.arraycopy(other, 1, other, 0, size - 1);
      System.arraycopy(readings, 1, readings, 0, size - 1);
      blocks--;
    }
    endMs[blocks] = lastMs;
    index[blocks] = block;
    own[blocks] = sumOwn / inBlock;
    other[blocks] = sumOther / inBlock;
    readings[blocks] = inBlock;
    blocks++;
    clearBlock();
  }

  private void clearBlock() {
    sumOwn = 0;
    sumOther = 0;
    inBlock = 0;
  }

  /** What was learned no longer holds; when it was learned stays. */
  void restart() {
    blocks = 0;
    clearBlock();
    block = Long.MIN_VALUE;
    gain = Double.NaN;
    moved = 0;
  }

  /**
   * Judges the blocks that have ended.
   *
   * @param ownSigma deviation of one own value
   * @param ownLeast the least deviation of an own block mean
   * @param otherSigma deviation of one of the other's values
   * @param otherLeast the least deviation of one of its block means
   */
  void judge(double ownSigma, double ownLeast, double otherSigma, double otherLeast) {
    gain = Double.NaN;
    moved = 0;
    if (blocks <= LEAST_INCREMENTS) {
      return;
    }
    double otherNoise = 0;
    for (int i = 0; i < blocks; i++) {
      otherNoise += variance(otherSigma, otherLeast, other, i) / blocks;
    }
    double limit = MOVED_SIGMAS * Math.sqrt(2 * otherNoise);
    moved = range(0, blocks) / limit;
    if (moved <= 1) {
      moved = 0;
      return;
    }
    double ownNoise = 0;
    for (int i = 0; i < blocks; i++) {
      noise[i] = variance(ownSigma, ownLeast, own, i);
      ownNoise += noise[i] / blocks;
    }
    weigh(0);
    double known = Math.min(MOST_NOISE_GAIN, Math.abs(sums.gain()));
    for (int i = 0; i < blocks; i++) {
      noise[i] += known * known * variance(otherSigma, otherLeast, other, i);
    }
    ownNoise += known * known * otherNoise;
    if (beside == Beside.DRIFT) {
      moved = 0; // a gain beside a drift is of a stretch, and none of what moved lately
      dateBesideDrift(otherNoise / ownNoise);
      return;
    }
    walk = walk();
    freedom = sums.freedom();
    if (moves(blocks - 1, otherNoise / ownNoise)) {
      gain = sums.gain();
    }
    date(limit);
  }

  private double variance(double sigma, double least, double[] mean, int i) {
    double tiny = 1e-12 * Math.abs(mean[i]); // a noiseless series must not divide by nothing
    return Math.max(Math.max(least * least, tiny * tiny), sigma * sigma / readings[i]);
  }

  /** The largest less the least of the other's means of the blocks {@code [from; to)}. */
  private double range(int from, int to) {
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    for (int i = from; i < to; i++) {
      least = Math.min(least, other[i]);
      most = Math.max(most, other[i]);
    }
    return most - least;
  }

  /**
   * Variance of the random walk per increment that accounts for what the noise does not, by false
   * position with the Illinois weighting (M. Dowell, P. Jarratt, BIT 11, 1971, 168-174, from
   * memory); the sums are then weighed with it.
   */
  private double walk() {
    double low = 0;
    double atLow = tooLittle(low);
    if (atLow <= 0) {
      return 0;
    }
    double high = 0;
    for (int i = from + 1; i < blocks; i++) {
      double step = own[i] - own[i - 1];
      high += step * step / sums.freedom();
    }
    double atHigh = tooLittle(high);
    double trial = high;
    double atTrial = atHigh;
    for (int i = 0; i < MOST_TRIALS && Math.abs(atTrial) > WALK_PRECISION && atLow != atHigh; i++) {
      trial = low + atLow * (high - low) / (atLow - atHigh);
      boolean again = atTrial > 0;
      atTrial = tooLittle(trial);
      if (atTrial > 0) {
        atHigh *= i > 0 && again ? 0.5 : 1;
        low = trial;
        atLow = atTrial;
      } else {
        atLow *= i > 0 && !again ? 0.5 : 1;
        high = trial;
        atHigh = atTrial;
      }
    }
    return trial;
  }

  /**
   * Weighs the increments with a random walk. Positive while it is too little: one less the share
   * that the squares allowed are of those left, which grows nearly in proportion to the walk.
   */
  private double tooLittle(double trial) {
    weigh(trial);
    return 1 - sums.freedom() / sums.left();
  }

  private void weigh(double trial) {
    sums.start(trial);
    for (int i = blocks - 2; i >= from; i--) {
      add(i);
    }
  }

  private void add(int i) {
    sums.add(
        (double) i / size, noise[i], noise[i + 1], other[i + 1] - other[i], own[i + 1] - own[i]);
  }

  /** Dates what the stretches that end now prove, with the random walk last used. */
  private void date(double limit) {
    boolean proven = false;
    boolean missed = beside != Beside.NOTHING;
    sums.startAgain();
    for (int i = blocks - 2; i >= 0 && !(proven && missed); i--) {
      add(i);
      int stretch = blocks - 1 - i;
      double g = sums.gain();
      if (!proven && stretch >= leastStretch && common()) {
        proven = true;
        provenMs = Math.max(provenMs, endMs[beside == Beside.COURSE ? (i + blocks) / 2 : i + 1]);
      }
      if (!missed
          && Math.abs(g) < MISSED_GAIN
          && g + 3 / Math.sqrt(sums.weight()) < beside.leastGain
          && range(i, blocks - 1) > limit) { // own may be a block late
        missed = true;
        missedMs = Math.max(missedMs, endMs[i + 1]);
        if (other[blocks - 1] - other[i] > limit) {
          missedRiseMs = missedMs;
        }
      }
    }
  }

  /**
   * Dates the shortest stretch up to now that shows common movement with a random walk of its own:
   * where a drift begins, a longer one holds its bend, which the other does not show. A walk only
   * takes significance away, so it is looked for where there is some without.
   */
  private void dateBesideDrift(double noiseRatio) {
    boolean proven = false;
    walk = 0;
    sums.start(0);
    for (int i = blocks - 2; i >= 0 && !proven; i--) {
      add(i);
      int stretch = blocks - 1 - i;
      if (stretch >= leastStretch && moves(stretch, noiseRatio) && common()) {
        from = i;
        walk = walk();
        freedom = sums.freedom();
        proven = common();
        walk = 0;
        weigh(0);
      }
      provenMs = proven ? Math.max(provenMs, endMs[i + 1]) : provenMs;
    }
    from = 0;
  }

  /** Whether what the other shows in the stretch weighed is more than its noise, twofold. */
  private boolean moves(int stretch, double noiseRatio) {
    return sums.weight() >= 4 * stretch * noiseRatio;
  }

  private boolean common() {
    double g = sums.gain();
    return credible(g) && significant(g);
  }

  private boolean significant(double g) {
    double ratio = g * Math.sqrt(sums.weight());
    return ratio > beside.sigmas // a ratio is never less than its deviations
        && deviations(ratio) > beside.sigmas;
  }

  /**
   * Normal deviations as unlikely as a positive ratio whose error was estimated, as it is with a
   * random walk (D. L. Wallace, Ann. Math. Stat. 30, 1959, 1124-1130, from memory).
   */
  private double deviations(double ratio) {
    if (walk == 0) {
      return ratio;
    }
    double f = freedom;
    return (8 * f + 1) / (8 * f + 3) * Math.sqrt(f * StrictMath.log1p(ratio * ratio / f));
  }

  private boolean credible(double g) {
    return g >= beside.leastGain && g <= beside.mostGain;
  }

  /** Share of the other's movement shown; NaN when it has not moved beyond its noise. */
  double gain() {
    return gain;
  }

  /**
   * The other's movement over what would count as one; 0 when it has not moved beyond its noise.
   */
  double moved() {
    return moved;
  }

  /** When common movement was last significant; {@link Long#MIN_VALUE} when never. */
  long provenMs() {
    return provenMs;
  }

  /** When own last missed a movement of the other; {@link Long#MIN_VALUE} when never. */
  long missedMs() {
    return missedMs;
  }

  /** When own last missed a rise of the other; {@link Long#MIN_VALUE} when never. */
  long missedRiseMs() {
    return missedRiseMs;
  }
}
