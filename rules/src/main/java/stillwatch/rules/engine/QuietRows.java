package stillwatch.rules.engine;

import com.espertech.esper.common.client.configuration.Configuration;
import com.espertech.esper.common.client.module.Module;
import com.espertech.esper.common.client.module.ModuleItem;
import com.espertech.esper.common.client.soda.ArithmaticExpression;
import com.espertech.esper.common.client.soda.BetweenExpression;
import com.espertech.esper.common.client.soda.CaseSwitchExpression;
import com.espertech.esper.common.client.soda.CaseWhenThenExpression;
import com.espertech.esper.common.client.soda.CoalesceExpression;
import com.espertech.esper.common.client.soda.ConcatExpression;
import com.espertech.esper.common.client.soda.Conjunction;
import com.espertech.esper.common.client.soda.ConstantExpression;
import com.espertech.esper.common.client.soda.Disjunction;
import com.espertech.esper.common.client.soda.DotExpression;
import com.espertech.esper.common.client.soda.DotExpressionItemName;
import com.espertech.esper.common.client.soda.EPStatementObjectModel;
import com.espertech.esper.common.client.soda.Expression;
import com.espertech.esper.common.client.soda.Expressions;
import com.espertech.esper.common.client.soda.FilterStream;
import com.espertech.esper.common.client.soda.InExpression;
import com.espertech.esper.common.client.soda.LambdaExpression;
import com.espertech.esper.common.client.soda.NotExpression;
import com.espertech.esper.common.client.soda.PropertyValueExpression;
import com.espertech.esper.common.client.soda.RelationalOpExpression;
import com.espertech.esper.common.client.soda.SelectClauseElement;
import com.espertech.esper.common.client.soda.SelectClauseExpression;
import com.espertech.esper.common.client.soda.SubstitutionParameterExpression;
import com.espertech.esper.compiler.client.EPCompileException;
import com.espertech.esper.compiler.client.EPCompiler;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * Leaves out the rows of a rule that nobody waits for, before the engine makes them. A row that is
 * not beyond changes something only where the condition was true before, so a rule whose select
 * reads one event and nothing else gets the further condition {@code standing or beyond}; then it
 * costs where something happens and not at every moment. A rule with a window, a pattern, an
 * aggregation or a join stays as it was written.
 */
final class QuietRows {
  /** The parameter that says who stands; no limit of a catalogue can have this name. */
  static final String STANDING = "standing_";

  /** Expressions that read the event and remember nothing. */
  private static final Set<Class<? extends Expression>> PLAIN =
      Set.of(
          ArithmaticExpression.class,
          BetweenExpression.class,
          CaseSwitchExpression.class,
          CaseWhenThenExpression.class,
          CoalesceExpression.class,
          ConcatExpression.class,
          Conjunction.class,
          ConstantExpression.class,
          Disjunction.class,
          InExpression.class,
          LambdaExpression.class,
          NotExpression.class,
          PropertyValueExpression.class,
          RelationalOpExpression.class,
          SubstitutionParameterExpression.class);

  private QuietRows() {}

  /** The statements of a rule with the further condition, where they allow it. */
  static Module leftOut(Module written, EPCompiler compiler, Configuration configuration)
      throws EPCompileException {
    List<ModuleItem> items = new ArrayList<>();
    for (ModuleItem item : written.getItems()) {
      if (!item.isCommentOnly()) {
        EPStatementObjectModel model = compiler.eplToModel(item.getExpression(), configuration);
        items.add(leaveOut(model) ? new ModuleItem(model) : item);
      }
    }
    written.setItems(items);
    return written;
  }

  private static boolean leaveOut(EPStatementObjectModel model) {
    if (!readsOneEvent(model)) {
      return false;
    }
    Expression subject = null;
    Expression beyond = null;
    for (SelectClauseElement element : model.getSelectClause().getSelectList()) {
      if (!(element instanceof SelectClauseExpression column) || !plain(column.getExpression())) {
        return false;
      }
      subject = "subject".equals(name(column)) ? column.getExpression() : subject;
      beyond = "beyond".equals(name(column)) ? column.getExpression() : beyond;
    }
    if (subject == null || beyond == null) {
      return false;
    }
    DotExpression standing =
        new DotExpression(
            new SubstitutionParameterExpression(STANDING, VerdictNeeds.class.getName()));
    standing.add("of", List.of(subject));
    model.setWhereClause(Expressions.or(standing, beyond));
    return true;
  }

  /** The name of a column, which that of a property may be; null where the engine makes one up. */
  private static @Nullable String name(SelectClauseExpression column) {
    return column.getAsName() == null && column.getExpression() instanceof PropertyValueExpression p
        ? p.getPropertyName()
        : column.getAsName();
  }

  /** Whether it is a select from one kind of event, without any memory. */
  private static boolean readsOneEvent(EPStatementObjectModel m) {
    List<com.espertech.esper.common.client.soda.Stream> streams =
        m.getFromClause() == null ? List.of() : m.getFromClause().getStreams();
    return m.getSelectClause() != null
        && m.getInsertInto() == null
        && streams.size() == 1
        && streams.get(0) instanceof FilterStream stream
        && (stream.getViews() == null || stream.getViews().isEmpty())
        && Stream.of(
                m.getWhereClause(),
                m.getGroupByClause(),
                m.getHavingClause(),
                m.getOutputLimitClause(),
                m.getOrderByClause(),
                m.getRowLimitClause(),
                m.getMatchRecognizeClause(),
                m.getContextName(),
                m.getOnExpr())
            .allMatch(Objects::isNull);
  }

  private static boolean plain(Expression e) {
    boolean known =
        PLAIN.contains(e.getClass())
            || (e instanceof DotExpression dot
                && !dot.getChain().isEmpty()
                && dot.getChain().get(0) instanceof DotExpressionItemName);
    return known && e.getChildren().stream().allMatch(QuietRows::plain);
  }
}
