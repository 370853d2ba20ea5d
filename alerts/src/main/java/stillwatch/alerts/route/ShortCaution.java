package stillwatch.alerts.route;

/** What must stand in everything that leaves the machine, in short. */
public final class ShortCaution {
  /** One line. */
  public static final String TEXT =
      "Decision support only: it operates no valve and is no safety instrumented system. Alarms can be missed or false;"
          + " every decision belongs to the people and the authority in charge.";

  private ShortCaution() {}
}
