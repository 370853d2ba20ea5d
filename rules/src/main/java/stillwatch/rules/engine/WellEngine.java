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
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.book.CatalogueException;
import stillwatch.rules.indicator.BuildUpIndicator;
import stillwatch.rules.indicator.ChangeIndicator;
import stillwatch.rules.indicator.CollectedIndicator;
import stillwatch.rules.indicator.DepartureIndicator;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.indicator.LateIndicator;
import stillwatch.rules.indicator.PairIndicator;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.indicator.PresenceIndicator;
import stillwatch.rules.indicator.SeabedIndicator;
import stillwatch.rules.indicator.SoloIndicator;
import stillwatch.rules.indicator.StepIndicator;
import stillwatch.rules.indicator.TwinsIndicator;
import stillwatch.rules.indicator.UnitIndicator;
import stillwatch.rules.indicator.WellIndicator;

/** The rules of one well at work, on log time. Not thread-safe: one thread owns it. */
public final class WellEngine implements AutoCloseable {
  private final EPRuntime runtime;
  private final Map<Class<?>, EventSender> senders = new HashMap<>();
  private @Nullable RuntimeException fault;

  /** An engine without rules. */
  public WellEngine() {
    // Esper hands back a known runtime for a known name, so each engine has a name of its own
    runtime = EPRuntimeProvider.getRuntime("well-" + UUID.randomUUID(), EsperSetup.configuration());
    runtime.getEventService().clockExternal();
    for (Class<?> event : EsperSetup.EVENTS) {
      senders.put(event, runtime.getEventService().getEventSender(event.getSimpleName()));
    }
  }

  /**
   * Adds a rule.
   *
   * @param parameters the limits in force, in base units, by the catalogue's names
   * @param standing of whom the sink wants to hear though the condition does not hold
   * @param sink told each verdict on the sending thread
   * @throws CatalogueException when the rule asks for a limit the catalogue does not name or lacks
   *     a column
   */
  public void deploy(
      Rule rule, Map<String, Double> parameters, VerdictNeeds standing, Consumer<Verdict> sink) {
    String id = rule.entry().id();
    DeploymentOptions options = new DeploymentOptions();
    options.setStatementSubstitutionParameter(
        env -> {
          Map<String, Integer> names = env.getSubstitutionParameterNames();
          if (names == null) {
            return;
          }
          for (String name : names.keySet()) {
            if (name.equals(QuietRows.STANDING)) {
              env.setObject(name, standing);
              continue;
            }
            Double value = parameters.get(name.replace('_', '-'));
            if (value == null) {
              throw new CatalogueException(
                  id + ".epl asks for '" + name + "', which its catalogue entry does not name");
            }
            env.setObject(name, value);
          }
        });
    try {
      for (EPStatement s :
          runtime.getDeploymentService().deploy(rule.compiled(), options).getStatements()) {
        listen(id, s, sink);
      }
    } catch (EPDeployException e) {
      Throwable why = e.getCause() instanceof CatalogueException c ? c : e;
      throw new CatalogueException(String.valueOf(why.getMessage()), e);
    }
  }

  private void listen(String id, EPStatement statement, Consumer<Verdict> sink) {
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
                sink.accept(row);
              }
            }
          } catch (RuntimeException e) {
            fault = fault == null ? e : fault;
          }
        });
  }

  /**
   * Moves log time to the indicator's, which never goes back, and lets rules about gauges see it:
   * each gauge, each pair, then the whole.
   */
  public void send(GaugesIndicator indicator) {
    runtime.getEventService().advanceTimeSpan(indicator.nowMs());
    sendEach(GaugeIndicator.class, indicator.gauges());
    sendEach(PairIndicator.class, indicator.pairs());
    sendEach(GaugesIndicator.class, List.of(indicator));
    rethrow();
  }

  /**
   * Lets rules about the well see an indicator of the moment of the gauges' last reading: each
   * group of twins, each gauge beside the others, each change and whatever else it holds, then the
   * whole.
   */
  public void send(WellIndicator indicator) {
    sendEach(TwinsIndicator.class, indicator.twins());
    sendEach(SoloIndicator.class, indicator.solos());
    sendEach(LateIndicator.class, indicator.seenLate());
    sendEach(ChangeIndicator.class, indicator.changes());
    sendEach(StepIndicator.class, indicator.steps());
    sendEach(BuildUpIndicator.class, indicator.buildUps());
    sendEach(PassIndicator.class, indicator.passes());
    sendEach(DepartureIndicator.class, indicator.departures());
    sendEach(SeabedIndicator.class, indicator.seabed());
    sendEach(UnitIndicator.class, indicator.units());
    sendEach(CollectedIndicator.class, indicator.collected());
    sendEach(PresenceIndicator.class, indicator.test().near());
    sendEach(WellIndicator.class, List.of(indicator));
    rethrow();
  }

  /** Lets rules about changes see them as they are now, at the same moment again. */
  public void send(List<ChangeIndicator> changes) {
    sendEach(ChangeIndicator.class, changes);
    rethrow();
  }

  private <T> void sendEach(Class<T> type, List<T> events) {
    EventSender sender = senders.get(type);
    for (int i = 0; sender != null && i < events.size(); i++) {
      sender.sendEvent(events.get(i));
    }
  }

  private void rethrow() {
    RuntimeException f = fault;
    if (f != null) {
      fault = null;
      throw f;
    }
  }

  @Override
  public void close() {
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
