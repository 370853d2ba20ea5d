package stillwatch.station.output;

import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.closing.StepsSeen;

/** What the closing steps of a recording say of the rock, as page and report say it. */
public final class RockText {
  private RockText() {}

  /**
   * A line for each gauge of each closing: the permeability-thickness, or why it cannot be told.
   *
   * @param closings what each gauge saw through each closing, oldest first
   */
  public static List<String> of(List<List<StepsSeen>> closings) {
    if (closings.isEmpty()) {
      return List.of("No permeability-thickness: no closure step is in the recording.");
    }
    List<String> lines = new ArrayList<>();
    for (int i = 0; i < closings.size(); i++) {
      String cycle = closings.size() == 1 ? "" : "Cycle " + (i + 1) + ", ";
      closings.get(i).forEach(seen -> lines.add(cycle + seen.read().text()));
    }
    return lines;
  }
}
