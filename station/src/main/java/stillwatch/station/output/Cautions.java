package stillwatch.station.output;

/** What must stand wherever a person reads results. */
public final class Cautions {
  public static final String TEXT =
      "Decision support only: it operates no valve and is not a safety instrumented system. Alarms can be missed or "
          + "false. Limits come from, and every decision belongs to, the competent persons and the authority in charge "
          + "under local regulations and the approved well-control procedures.";

  private Cautions() {}
}
