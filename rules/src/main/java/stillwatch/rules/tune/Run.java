package stillwatch.rules.tune;

import java.util.List;
import stillwatch.rules.watch.CapturedRun;

/**
 * One recording, read once.
 *
 * @param name its file's name, and what was planted in it
 * @param captured what the gauges and the well said
 * @param labels what truly happened in it
 * @param fromMs log time of its first entry
 * @param toMs log time of its last
 */
public record Run(String name, CapturedRun captured, List<Label> labels, long fromMs, long toMs) {}
