package stillwatch.rules.plan;

import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Collectors;

/**
 * A plan that cannot be used; the message has a line for every mistake: {@code plan.yaml:12:7: what
 * and how to mend}.
 */
public final class PlanException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final transient List<PlanFault> faults;

  /** All mistakes of one file. */
  public PlanException(Path file, List<PlanFault> faults) {
    super(text(file, faults));
    this.faults = List.copyOf(faults);
  }

  private static String text(Path file, List<PlanFault> faults) {
    return faults.stream()
        .sorted(Comparator.comparingInt(PlanFault::line).thenComparingInt(PlanFault::column))
        .map(f -> file + ":" + f.line() + ":" + f.column() + ": " + f.message())
        .collect(Collectors.joining("\n"));
  }

  /** The mistakes. */
  public List<PlanFault> faults() {
    return faults;
  }
}
