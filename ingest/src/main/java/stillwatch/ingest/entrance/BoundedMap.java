package stillwatch.ingest.entrance;

import java.util.LinkedHashMap;
import java.util.Map;

/**
 * A map that keeps only so many entries, those last read or written: names that strangers make up
 * cannot fill the memory. Not safe from several threads at once.
 */
public final class BoundedMap<K, V> extends LinkedHashMap<K, V> {
  private final int most;

  /** An empty map that keeps this many entries at most. */
  public BoundedMap(int most) {
    super(16, 0.75f, true);
    this.most = most;
  }

  @Override
  protected boolean removeEldestEntry(Map.Entry<K, V> eldest) {
    return size() > most;
  }
}
