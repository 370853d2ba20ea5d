package stillwatch.ingest.door;

import java.sql.SQLException;

/** Says why a database gives no rows, and what to do about it. */
final class SqlFault {
  private static final String NO_PERMISSION = "42501";

  private SqlFault() {}

  /** In one sentence; the classes of SQLSTATE are those of ISO/IEC 9075-2. */
  static String why(SQLException fault, SqlPlan plan) {
    String state = fault.getSQLState() == null ? "" : fault.getSQLState();
    String said = String.valueOf(fault.getMessage()).strip().replaceAll("\\s*\\R\\s*", "; ");
    String mend;
    if (state.startsWith("28")) {
      mend = "correct 'user' in the plan, or what is in its password-file";
    } else if (state.equals(NO_PERMISSION)) {
      mend = "allow the user " + plan.user() + " to read that, or correct the query in the plan";
    } else if (state.startsWith("42")) {
      mend = "correct the query in the plan, or the database";
    } else if (state.startsWith("3D")) {
      mend = "correct the name of the database in the plan's url";
    } else {
      mend = "check that the database runs, and the plan's url";
    }
    return "nothing comes of " + String.join(", ", plan.gauges()) + ": " + said + "; " + mend;
  }
}
