package stillwatch.rules.plan;

import com.fasterxml.jackson.databind.JsonNode;
import stillwatch.ingest.unit.Dimension;
import stillwatch.ingest.unit.Quantities;
import stillwatch.ingest.unit.UnitException;
import stillwatch.rules.well.Uncertain;

/** Reads the quantities of a plan, noting those that are wrong. */
final class PlanQuantities {
  private final YamlTree tree;

  PlanQuantities(YamlTree tree) {
    this.tree = tree;
  }

  /** A quantity in its base unit; {@code otherwise} where there is none, or a wrong one. */
  double of(JsonNode parent, String at, String key, Dimension dimension, double otherwise) {
    JsonNode node = parent.path(key);
    if (!node.isTextual() && !node.isNumber()) {
      return otherwise;
    }
    try {
      return Quantities.parse(node.asText(), dimension);
    } catch (UnitException e) {
      tree.fault(at + "/" + key, String.valueOf(e.getMessage()));
      return otherwise;
    }
  }

  /** One that may not be known for certain. */
  Uncertain uncertain(JsonNode parent, String at, String key, Dimension dimension) {
    JsonNode node = parent.path(key);
    if (!node.isObject()) {
      return Uncertain.known(of(parent, at, key, dimension, Double.NaN));
    }
    String here = at + "/" + key;
    if (node.has("mean") && node.has("deviation") && node.size() == 2) {
      double deviation = of(node, here, "deviation", dimension.difference(), Double.NaN);
      if (deviation <= 0) {
        tree.fault(here + "/deviation", "a deviation must be above zero");
      }
      return Uncertain.normal(of(node, here, "mean", dimension, Double.NaN), deviation);
    }
    if (!node.has("low") || !node.has("high") || node.has("mean") || node.has("deviation")) {
      tree.fault(
          here,
          "must be a quantity, or low and high (with likely or without), or mean and deviation");
      return Uncertain.known(Double.NaN);
    }
    double low = of(node, here, "low", dimension, Double.NaN);
    double high = of(node, here, "high", dimension, Double.NaN);
    if (low >= high) {
      tree.fault(here, "low must be below high");
    }
    if (!node.has("likely")) {
      return Uncertain.between(low, high);
    }
    double likely = of(node, here, "likely", dimension, Double.NaN);
    if (likely < low || likely > high) {
      tree.fault(here + "/likely", "likely must lie between low and high");
    }
    return Uncertain.triangle(low, likely, high);
  }
}
