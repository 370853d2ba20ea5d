package stillwatch.rules.tune;

/**
 * What truly happened in a recording.
 *
 * @param recording the recording's file name
 * @param fromMs when it began, ms since 1970 UTC
 * @param toMs when it was over
 * @param what a word that catalogues name, for example {@code leak-fast}
 */
public record Label(String recording, long fromMs, long toMs, String what) {}
