package stillwatch.rules.service;

import java.time.Duration;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;

/** What is on the alerts topic, whoever said it. One thread at a time. */
final class FindingsOnTopic implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(FindingsOnTopic.class);
  private static final Duration WAIT = Duration.ofMillis(100);

  private final TopicReader reader;
  private final Set<String> names = new HashSet<>();

  FindingsOnTopic(Bus bus) {
    reader = bus.readerOfAll(Topics.ALERTS, Assignment.FROM_THE_START);
  }

  /** Reads what has been said up to now. */
  void readOn() {
    Map<Integer, Long> ends = reader.endOffsets();
    while (!reader.passed(ends)) {
      for (Message m : reader.poll(WAIT)) {
        try {
          add(FindingCodec.decode(m.value()));
        } catch (IllegalArgumentException e) {
          LOG.warn("offset {} of the alerts topic is no finding: {}", m.offset(), e.getMessage());
        }
      }
    }
  }

  /** Notes a finding; false when it was said before. */
  boolean add(Finding finding) {
    return names.add(finding.id() + (finding.returned() ? " returned" : " raised"));
  }

  @Override
  public void close() {
    reader.close();
  }
}
