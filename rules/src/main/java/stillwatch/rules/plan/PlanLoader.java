package stillwatch.rules.plan;

/** Reads plans. */
public final class PlanLoader {
  private PlanLoader() {}
}
