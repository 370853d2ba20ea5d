package stillwatch.rules.signal;

/**
 * Where a gauge stands and which way it goes, in its base unit; NaN where not known yet.
 *
 * @param lastValue the last believable reading
 * @param level the robust level: median of the last five readings, of three where the gauge is slow
 * @param slope10m slope an hour over ten minutes or twenty periods
 * @param decline downward slope an hour over three hours, the sea's tide and the cooling that the
 *     facts expect taken out
 * @param declineError its standard error
 * @param rising upward slope an hour over one hour, the sea's tide taken out
 * @param risingError its standard error
 */
public record Course(
    double lastValue,
    double level,
    double slope10m,
    double decline,
    double declineError,
    double rising,
    double risingError) {
  /** The decline less twice its error: what it is for sure, as far as 95 % are sure. */
  public double sureDecline() {
    return decline - 2 * declineError;
  }
}
