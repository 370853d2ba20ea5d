package stillwatch.rules.engine;

import com.espertech.esper.common.client.configuration.Configuration;
import com.espertech.esper.common.client.configuration.common.ConfigurationCommonEventTypeBean;
import com.espertech.esper.common.client.hook.exception.ExceptionHandler;
import com.espertech.esper.common.client.hook.exception.ExceptionHandlerFactory;
import com.espertech.esper.common.client.hook.exception.ExceptionHandlerFactoryContext;
import com.espertech.esper.common.client.util.AccessorStyle;
import com.espertech.esper.common.client.util.EventUnderlyingType;
import java.lang.reflect.RecordComponent;
import java.util.List;
import stillwatch.rules.indicator.BuildUpIndicator;
import stillwatch.rules.indicator.CeilingTimes;
import stillwatch.rules.indicator.ChangeIndicator;
import stillwatch.rules.indicator.ClockIndicator;
import stillwatch.rules.indicator.CollectedIndicator;
import stillwatch.rules.indicator.DepartureIndicator;
import stillwatch.rules.indicator.EvidenceIndicator;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.indicator.LateIndicator;
import stillwatch.rules.indicator.Levels;
import stillwatch.rules.indicator.Losses;
import stillwatch.rules.indicator.LowTime;
import stillwatch.rules.indicator.Near;
import stillwatch.rules.indicator.PairIndicator;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.indicator.PresenceIndicator;
import stillwatch.rules.indicator.SeabedIndicator;
import stillwatch.rules.indicator.SoloIndicator;
import stillwatch.rules.indicator.StepIndicator;
import stillwatch.rules.indicator.TestIndicator;
import stillwatch.rules.indicator.Trust;
import stillwatch.rules.indicator.TwinsIndicator;
import stillwatch.rules.indicator.UnitIndicator;
import stillwatch.rules.indicator.WellIndicator;
import stillwatch.rules.signal.Course;
import stillwatch.rules.signal.Fall;
import stillwatch.rules.signal.Hearing;
import stillwatch.rules.signal.Life;
import stillwatch.rules.signal.Noisiness;
import stillwatch.rules.signal.Range;
import stillwatch.rules.signal.Reach;
import stillwatch.rules.signal.Shortfall;

/**
 * One configuration for compiler and runtime: no timer of its own, no threads, faults thrown to the
 * sender.
 */
final class EsperSetup {
  static final List<Class<?>> EVENTS =
      List.of(
          GaugesIndicator.class,
          GaugeIndicator.class,
          PairIndicator.class,
          WellIndicator.class,
          TwinsIndicator.class,
          BuildUpIndicator.class,
          TestIndicator.class,
          PresenceIndicator.class,
          PassIndicator.class,
          DepartureIndicator.class,
          SeabedIndicator.class,
          UnitIndicator.class,
          CollectedIndicator.class,
          EvidenceIndicator.class,
          SoloIndicator.class,
          ChangeIndicator.class,
          StepIndicator.class,
          LateIndicator.class,
          ClockIndicator.class,
          Trust.class,
          Near.class,
          Levels.class,
          Losses.class,
          LowTime.class,
          CeilingTimes.class,
          Course.class,
          Fall.class,
          Life.class,
          Range.class,
          Shortfall.class,
          Noisiness.class,
          Hearing.class,
          Reach.class);

  private EsperSetup() {}

  static Configuration configuration() {
    Configuration c = new Configuration();
    c.getRuntime().getThreading().setInternalTimerEnabled(false);
    c.getRuntime().getThreading().setListenerDispatchPreserveOrder(false);
    c.getRuntime().getThreading().setInsertIntoDispatchPreserveOrder(false);
    c.getRuntime().getExecution().setDisableLocking(true); // one thread a runtime
    c.getRuntime().getExceptionHandling().addClass(Rethrow.class);
    // what a rule selects, as an array instead of a map a row
    c.getCommon().getEventMeta().setDefaultEventRepresentation(EventUnderlyingType.OBJECTARRAY);
    c.getCompiler().getExecution().setFilterServiceMaxFilterWidth(0);
    for (Class<?> event : EVENTS) {
      ConfigurationCommonEventTypeBean bean = new ConfigurationCommonEventTypeBean();
      bean.setAccessorStyle(AccessorStyle.PUBLIC);
      c.getCommon().addEventType(event.getSimpleName(), event.getName(), bean);
    }
    return c;
  }

  /** The columns rules are compiled against; Esper itself does not notice when they change. */
  static String schema() {
    StringBuilder s = new StringBuilder();
    for (Class<?> event : EVENTS) {
      s.append(event.getSimpleName());
      for (RecordComponent c : event.getRecordComponents()) {
        s.append(' ').append(c.getName()).append(':').append(c.getType().getSimpleName());
      }
      s.append('\n');
    }
    return s.toString();
  }

  /** Hands a fault inside a statement to whoever sent the event. */
  public static final class Rethrow implements ExceptionHandlerFactory {
    @Override
    public ExceptionHandler getHandler(ExceptionHandlerFactoryContext context) {
      return fault -> {
        throw new RuleFault(
            "rule '" + fault.getStatementName() + "' failed on an indicator", fault.getThrowable());
      };
    }
  }
}
