/**
 * The source of readings that are polled over Modbus TCP. Start at {@link
 * stillwatch.fieldbus.modbus.ModbusKind}, which a plan's {@code sources} find.
 */
@NullMarked
package stillwatch.fieldbus.modbus;

import org.jspecify.annotations.NullMarked;
