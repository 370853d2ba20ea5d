package stillwatch.bench.faults;

import java.util.List;

/** What may break. */
enum Kind {
  RULES_KILLED_READING("simulated", "rules killed between two entries"),
  RULES_KILLED_WRITING("simulated", "rules killed with a finding not yet written"),
  RULES_KILLED_WRITTEN("simulated", "rules killed with a finding written and not acknowledged"),
  REBALANCE("simulated", "well taken from a rules process and given back"),
  STOOD_STILL("simulated", "rules process stands still, another takes over, the first goes on"),
  WALL_STEP("simulated", "clock of the rules' machine steps by an hour"),
  DESK_KILLED("simulated", "desk killed before or after it took alerts in"),
  DESK_TOLD_AGAIN("simulated", "desk told again from the first alert on"),
  DESK_CLOCK("simulated", "clock of the desk's machine steps by an hour, on or back"),
  ENTRY_TWICE("simulated", "entry stands twice in the log"),
  ENTRY_LATE("simulated", "entry stands in the log late"),
  ENTRIES_REORDERED("simulated", "entries stand in the log out of order"),
  ENTRY_UNREADABLE("simulated", "wrong bytes in the log"),
  ENTRY_CLOCK("simulated", "source's clock an hour off in the log"),

  LINES_TWICE("readings", "body sent twice"),
  LINES_LATE("readings", "readings sent late"),
  LINES_REORDERED("readings", "readings sent out of order"),
  WRONG_BYTES("readings", "wrong bytes among the readings"),
  CUT("readings", "connection cut in the middle of a body"),
  CLOCK_AHEAD("readings", "source's clock an hour ahead"),
  CLOCK_BACK("readings", "source's clock an hour back"),

  WATCH_KILLED("watch", "watch killed (signal 9)"),
  WATCH_STOPPED("watch", "watch stopped (signal 15) and started"),
  WATCH_STILL("watch", "watch stands still for 2 to 6 s"),
  BROKER_KILLED("watch", "broker killed (signal 9)"),
  BROKER_STILL("watch", "broker stands still for 2 to 8 s"),
  BROKER_LONG_STILL("watch", "broker stands still for 25 s"),
  DISK_FULL("watch", "disk full to the last byte for 3 to 8 s"),
  DISK_SLOW("watch", "disk takes nothing for 2 to 6 s"),
  DISK_READ_ONLY("watch", "data folder read-only for 3 to 6 s"),
  PEER_AWAY("watch", "route's peer away for 3 to 8 s"),
  PEER_REFUSES("watch", "route's peer answers 500 for 3 to 8 s"),
  WEBHOOK_AWAY("watch", "webhook's peer takes no connection for 1 to 3 min"),
  WEBHOOK_HANGS("watch", "webhook's peer takes connections and says nothing for 1 to 3 min"),
  MAIL_AWAY("watch", "mail server takes no connection for 1 to 3 min"),
  MAIL_HANGS("watch", "mail server takes connections and says nothing for 1 to 3 min"),
  MQTT_AWAY("watch", "MQTT broker of a route takes no connection for 1 to 3 min"),
  MQTT_HANGS("watch", "MQTT broker of a route takes connections and says nothing for 1 to 3 min"),

  INTAKE_KILLED("spread out", "intake killed (signal 9)"),
  ONE_RULES_KILLED("spread out", "one of two rules processes killed (signal 9)"),
  BOTH_RULES_KILLED("spread out", "both rules processes killed (signal 9)"),
  ONE_RULES_STILL("spread out", "one of two rules processes stands still for 8 to 15 s"),
  ALERTS_KILLED("spread out", "alarm side killed (signal 9)"),
  ALERTS_STILL("spread out", "alarm side stands still for 2 to 7 s"),
  LOG_BROKER_KILLED(
      "spread out", "broker of the parts killed (signal 9) and started after 1 to 5 s"),
  LOG_BROKER_STILL("spread out", "broker of the parts stands still for 2 to 15 s"),
  DATABASE_KILLED("spread out", "database killed (signal 9) and started once that was said"),
  DATABASE_STILL("spread out", "database stands still until that was said"),
  DATABASE_AWAY("spread out", "database stopped in order and started after 1 to 3 min");

  private final String group;
  private final String words;

  Kind(String group, String words) {
    this.group = group;
    this.words = words;
  }

  /** Where it happens: simulated, to the readings, to the watch, or to the parts of one. */
  String group() {
    return group;
  }

  /** Whether it happens to the peer of a route, so that messages wait. */
  boolean toPeer() {
    return List.of("PEER", "WEBHOOK", "MAIL", "MQTT").contains(name().split("_", 2)[0]);
  }

  /** What happens, for people. */
  String words() {
    return words;
  }
}
