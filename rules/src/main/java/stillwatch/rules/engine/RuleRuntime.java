package stillwatch.rules.engine;

import com.espertech.esper.common.client.EventBean;
import com.espertech.esper.common.client.EventPropertyGetter;
import com.espertech.esper.common.client.EventSender;
import com.espertech.esper.common.client.EventType;
import com.espertech.esper.runtime.client.DeploymentOptions;
import com.espertech.esper.runtime.client.EPDeployException;
import com.espertech.esper.runtime.client.EPRuntime;
import com.espertech.esper.runtime.client.EPRuntimeProvider;
import com.espertech.esper.runtime.client.EPStatement;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.book.CatalogueException;

/**
 * Rules deployed in an engine of their own, which wells may take turns at. Not thread-safe: one
 * thread owns it.
 */
final class RuleRuntime {
  private final EPRuntime runtime;
  private final Map<Class<?>, EventSender> senders = new HashMap<>();
  private List<DeployedRule> turn = List.of();
  private boolean remembers;
  private @Nullable RuntimeException fault;

  /**
   * Deploys these rules.
   *
   * @throws CatalogueException when a rule asks for a limit the catalogue does not name or lacks a
   *     column
   */
  RuleRuntime(List<DeployedRule> rules) {
    // Esper hands back a known runtime for a known name, so each engine has a name of its own
    runtime =
        EPRuntimeProvider.getRuntime("rules-" + UUID.randomUUID(), EsperSetup.configuration());
    runtime.getEventService().clockExternal();
    for (Class<?> event : EsperSetup.EVENTS) {
      senders.put(event, runtime.getEventService().getEventSender(event.getSimpleName()));
    }
    for (int i = 0; i < rules.size(); i++) {
      deploy(rules.get(i), i);
    }
  }

  /** The same rules under the same limits, in the order they were deployed in, have the turn. */
  void turnOf(List<DeployedRule> rules) {
    turn = rules;
  }

  /** Whether a rule may remember what it has seen, or the time, so that no two wells can share. */
  boolean remembers() {
    return remembers;
  }

  private void deploy(DeployedRule rule, int number) {
    String id = rule.rule().entry().id();
    VerdictNeeds standing = subject -> turn.get(number).standing().of(subject);
    DeploymentOptions options = new DeploymentOptions();
    options.setStatementSubstitutionParameter(
        env -> {
          Map<String, Integer> names = env.getSubstitutionParameterNames();
          remembers |= names == null || !names.containsKey(QuietRows.STANDING);
          if (names == null) {
            return;
          }
          for (String name : names.keySet()) {
            if (name.equals(QuietRows.STANDING)) {
              env.setObject(name, standing);
              continue;
            }
            Double value = rule.parameters().get(name.replace('_', '-'));
            if (value == null) {
              throw new CatalogueException(
                  id + ".epl asks for '" + name + "', which its catalogue entry does not name");
            }
            env.setObject(name, value);
          }
        });
    try {
      for (EPStatement s :
          runtime.getDeploymentService().deploy(rule.rule().compiled(), options).getStatements()) {
        listen(id, s, number);
      }
    } catch (EPDeployException e) {
      Throwable why = e.getCause() instanceof CatalogueException c ? c : e;
      throw new CatalogueException(String.valueOf(why.getMessage()), e);
    }
  }

  private void listen(String id, EPStatement statement, int number) {
    EventType type = statement.getEventType();
    if (type.getGetter("subject") == null) {
      return; // a helping statement of the rule
    }
    for (String column : new String[] {"nowMs", "beyond", "normal"}) {
      if (type.getGetter(column) == null) {
        throw new CatalogueException(id + ".epl: its select lacks the column '" + column + "'");
      }
    }
    Row row = new Row(type);
    statement.addListener(
        (rows, old, st, rt) -> {
          if (rows == null) {
            return;
          }
          try { // Esper swallows what a listener throws, so it is kept and thrown to the sender
            for (EventBean bean : rows) {
              row.bean = bean;
              if (row.subjectOrNull() != null) {
                turn.get(number).sink().accept(row);
              }
            }
          } catch (RuntimeException e) {
            fault = fault == null ? e : fault;
          }
        });
  }

  /** Moves log time on to this, ms since 1970 UTC; it never goes back. */
  void advance(long nowMs) {
    runtime.getEventService().advanceTimeSpan(nowMs);
  }

  /** Sends each of these, one after the other. */
  <T> void send(Class<T> type, List<T> events) {
    EventSender sender = senders.get(type);
    for (int i = 0; sender != null && i < events.size(); i++) {
      sender.sendEvent(events.get(i));
    }
  }

  /** Throws what a listener threw. */
  void rethrow() {
    RuntimeException f = fault;
    if (f != null) {
      fault = null;
      throw f;
    }
  }

  void destroy() {
    runtime.destroy();
  }

  /** The row now being handed over. */
  private static final class Row implements Verdict {
    private final EventPropertyGetter subject;
    private final EventPropertyGetter nowMs;
    private final EventPropertyGetter beyond;
    private final EventPropertyGetter normal;
    private final @Nullable EventPropertyGetter onsetMs;
    private final @Nullable EventPropertyGetter timeMs;
    private final @Nullable EventPropertyGetter priority;
    private final @Nullable EventPropertyGetter size;
    private final String[] columns;
    private @Nullable EventBean bean;

    Row(EventType type) {
      subject = type.getGetter("subject");
      nowMs = type.getGetter("nowMs");
      beyond = type.getGetter("beyond");
      normal = type.getGetter("normal");
      onsetMs = type.getGetter("onsetMs");
      timeMs = type.getGetter("timeMs");
      priority = type.getGetter("priority");
      size = type.getGetter("size");
      columns = type.getPropertyNames();
    }

    @Nullable Object subjectOrNull() {
      return subject.get(bean);
    }

    @Override
    public String subject() {
      return (String) subject.get(bean);
    }

    @Override
    public long nowMs() {
      return ((Number) nowMs.get(bean)).longValue();
    }

    @Override
    public long timeMs() {
      return timeMs != null && timeMs.get(bean) instanceof Number n ? n.longValue() : nowMs();
    }

    @Override
    public boolean beyond() {
      return Boolean.TRUE.equals(beyond.get(bean));
    }

    @Override
    public boolean normal() {
      return Boolean.TRUE.equals(normal.get(bean));
    }

    @Override
    public long onsetMs() {
      return onsetMs != null && onsetMs.get(bean) instanceof Number n ? n.longValue() : -1;
    }

    @Override
    public double size() {
      return size != null && size.get(bean) instanceof Number n ? n.doubleValue() : Double.NaN;
    }

    @Override
    public @Nullable String priority() {
      return priority != null && priority.get(bean) instanceof String s ? s : null;
    }

    @Override
    public Map<String, String> texts() {
      Map<String, String> found = new TreeMap<>();
      EventBean b = bean;
      for (String column : columns) {
        if (b != null && b.get(column) instanceof String s) {
          found.put(column, s);
        }
      }
      return found;
    }

    @Override
    public Map<String, Double> numbers() {
      Map<String, Double> found = new TreeMap<>();
      EventBean b = bean;
      for (String column : columns) {
        if (b != null
            && b.get(column) instanceof Number n
            && Double.isFinite(n.doubleValue())
            && !column.endsWith("Ms")) {
          found.put(column, n.doubleValue());
        }
      }
      return found;
    }
  }
}
