/**
 * The source of readings that an OPC UA server publishes. Start at {@link
 * stillwatch.fieldbus.opcua.OpcuaKind}, which a plan's {@code sources} find.
 */
@NullMarked
package stillwatch.fieldbus.opcua;

import org.jspecify.annotations.NullMarked;
