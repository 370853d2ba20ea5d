package stillwatch.alerts.desk;

/**
 * An alarm's place in the state model, with what the model must remember.
 *
 * @param state where it stands
 * @param lasts whether its condition lasts
 * @param asking whether it needs acknowledgement; information does not
 * @param latches whether it must be reset after its condition is over
 */
public record AlarmStanding(AlarmState state, boolean lasts, boolean asking, boolean latches) {
  /** One that was just raised. */
  static AlarmStanding raised(boolean asking, boolean latches) {
    return new AlarmStanding(
        asking ? AlarmState.UNACKNOWLEDGED : AlarmState.ACKNOWLEDGED, true, asking, latches);
  }

  /** Where it stands after an event; unchanged when the event has no meaning there. */
  public AlarmStanding after(AlarmEvent event) {
    boolean still = lasts && event != AlarmEvent.RETURNED;
    AlarmState next =
        switch (event) {
          case RETURNED -> lasts ? returned() : state;
          case ACKNOWLEDGED -> acknowledged();
          case RE_ALARMED ->
              state == AlarmState.ACKNOWLEDGED && asking ? AlarmState.UNACKNOWLEDGED : state;
          case RESET -> state == AlarmState.LATCHED_ACKNOWLEDGED ? AlarmState.NORMAL : state;
          case RAISED_AGAIN ->
              state == AlarmState.RETURNED_UNACKNOWLEDGED ? AlarmState.NORMAL : state;
          case SHELVED -> held(AlarmState.SHELVED);
          case SUPPRESSED -> held(AlarmState.SUPPRESSED_BY_DESIGN);
          case REMOVED -> held(AlarmState.OUT_OF_SERVICE);
          case RESTORED -> state.held() ? restored() : state;
        };
    return new AlarmStanding(next, still, asking, latches);
  }

  private AlarmState returned() {
    return switch (state) {
      case UNACKNOWLEDGED ->
          latches ? AlarmState.LATCHED_UNACKNOWLEDGED : AlarmState.RETURNED_UNACKNOWLEDGED;
      case ACKNOWLEDGED -> latches ? AlarmState.LATCHED_ACKNOWLEDGED : AlarmState.NORMAL;
      default -> state;
    };
  }

  private AlarmState acknowledged() {
    return switch (state) {
      case UNACKNOWLEDGED -> AlarmState.ACKNOWLEDGED;
      case RETURNED_UNACKNOWLEDGED -> AlarmState.NORMAL;
      case LATCHED_UNACKNOWLEDGED -> AlarmState.LATCHED_ACKNOWLEDGED;
      default -> state;
    };
  }

  /** What is over and done with is not suppressed, and out of service is stronger than the rest. */
  private AlarmState held(AlarmState how) {
    return state == AlarmState.NORMAL
            || state == AlarmState.OUT_OF_SERVICE
            || (state == AlarmState.SUPPRESSED_BY_DESIGN && how == AlarmState.SHELVED)
        ? state
        : how;
  }

  private AlarmState restored() {
    return lasts ? raised(asking, latches).state() : AlarmState.NORMAL;
  }
}
