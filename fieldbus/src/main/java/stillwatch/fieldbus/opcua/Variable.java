package stillwatch.fieldbus.opcua;

import java.util.Optional;
import java.util.stream.Stream;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.NodeId;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import stillwatch.ingest.door.Reading;

/**
 * A gauge's node as this server has it.
 *
 * @param unit the UCUM code of its values; empty for the gauge's own
 * @param history whether the server lets its history be read
 * @param sinceMs of when its value was before it was subscribed to, ms since 1970 UTC
 */
record Variable(Item item, NodeId node, String unit, boolean history, long sinceMs) {
  /**
   * What the server says of it, as a reading: stamped by the source, else by the server, else when
   * it came; good, uncertain or bad by the severity of its status (OPC 10000-4, 7.39). What bad
   * says is no value.
   *
   * @return empty when it is neither a number nor bad
   */
  Optional<Reading> reading(DataValue said, long nowMs) {
    StatusCode status = said.getStatusCode();
    Object value = said.getValue().getValue();
    double number = value instanceof Number n ? n.doubleValue() : Double.NaN;
    boolean none = !Double.isFinite(number) || status.isBad();
    if (none && !status.isBad() && !(value instanceof Number) && value != null) {
      return Optional.empty();
    }
    String quality = none ? "bad" : status.isUncertain() ? "uncertain" : "good";
    return Optional.of(
        new Reading(item.gauge(), atMs(said, nowMs), none ? Double.NaN : number, quality, unit));
  }

  /** When it was so. */
  static long atMs(DataValue said, long nowMs) {
    return Stream.of(
            Optional.ofNullable(said.getSourceTime()), Optional.ofNullable(said.getServerTime()))
        .flatMap(Optional::stream)
        .filter(DateTime::isNotNull)
        .mapToLong(DateTime::getJavaTime)
        .findFirst()
        .orElse(nowMs);
  }
}
