package stillwatch.station.output;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.review.ReviewWords;
import stillwatch.rules.watch.BuildUpReview;
import stillwatch.rules.well.Explanation;

/** What the page of a replay shows of the build-up: its plots and its explanations over time. */
final class ReviewsJson {
  private final ReviewWords words;

  ReviewsJson(Plan plan) {
    words = new ReviewWords(plan);
  }

  void fill(ObjectNode into, BuildUpReview newest, List<Reviews.At> compared) {
    words.leads(into, newest);
    if (!compared.isEmpty()) {
      Reviews.At last = compared.get(compared.size() - 1);
      words.explained(into, last.diagnosis(), last.reviewed());
    }
    ArrayNode history = into.putArray("history");
    for (Reviews.At at : compared) {
      ArrayNode each = history.addObject().put("at", at.reviewed().atMs()).putArray("weight");
      for (Explanation x : Explanation.values()) {
        each.add(at.diagnosis().weight(x));
      }
    }
  }
}
