package stillwatch.alerts.watchdog;

import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import stillwatch.ingest.disk.Disk;
import stillwatch.ingest.disk.DiskSpace;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.plan.Plan;

/** Whether a disk runs full, by the limits of a plan. Safe from any thread. */
public final class DiskRoom {
  private final Disk disk;
  private final Map<String, Double> limits;

  /** The disk under the plan's limits of {@link DeskJudge#DISK_LOW}. */
  public DiskRoom(Disk disk, Plan plan) {
    this.disk = disk;
    RuleEntry entry = Catalogue.shipped().rule(DeskJudge.DISK_LOW).orElseThrow();
    limits = plan.setting(DeskJudge.DISK_LOW).limits(entry);
  }

  /** Says in one sentence that the disk runs full or is full; empty while there is room. */
  public List<String> low() {
    Optional<String> full = disk.full();
    boolean taken = disk.space().usedShare() >= limits.getOrDefault("used", 1.0);
    boolean soon =
        disk.left()
            .filter(left -> left.toMillis() <= limits.getOrDefault("left", 0.0) * 1000)
            .isPresent();
    return full.map(List::of).orElseGet(() -> taken || soon ? List.of(sentence()) : List.of());
  }

  private String sentence() {
    DiskSpace space = disk.space();
    return String.format(
        Locale.ROOT,
        "Disk %d %%, %s (%.1f GB free).",
        (int) (space.usedShare() * 100),
        disk.left().map(left -> span(left) + " at this rate").orElse("not growing steadily"),
        space.freeBytes() / 1e9);
  }

  private static String span(Duration left) {
    return left.toDays() >= 2 ? left.toDays() + " d" : Watchdog.span(left.toMillis());
  }
}
