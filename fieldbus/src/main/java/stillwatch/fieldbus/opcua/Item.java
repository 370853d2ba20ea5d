package stillwatch.fieldbus.opcua;

import stillwatch.ingest.unit.Kind;

/**
 * One variable that is one gauge.
 *
 * @param node its id as the plan has it
 * @param kind what the gauge measures
 * @param unit the UCUM code that the plan states for the source; empty where it states none
 */
record Item(String gauge, String node, Kind kind, String unit) {
  /** The gauge and its node, in words. */
  String place() {
    return gauge + ", node " + node;
  }
}
