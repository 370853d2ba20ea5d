package stillwatch.bench.entrance;

/**
 * How many come, and how long.
 *
 * @param slow clients that send a byte now and then, half of them in a head, half in a body
 * @param loginsPerS wrong logins a second
 * @param badLines lines of telemetry that are wrong
 * @param alarms what is seen at the seafloor meanwhile, an alarm each
 * @param seconds how long all this lasts at least
 */
public record Crowd(int slow, int loginsPerS, int badLines, int alarms, int seconds) {
  /** The crowd that must not matter. */
  static final Crowd WHOLE = new Crowd(1000, 200, 200_000, 20, 60);

  /** One that a build has time for. */
  public static final Crowd SMALL = new Crowd(300, 100, 20_000, 3, 6);
}
