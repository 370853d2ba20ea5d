package stillwatch.station.output;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.series.WellPicture;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.finding.UtcText;
import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.leaving.LeavingWords;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.replay.Replay;
import stillwatch.rules.survey.SeabedWords;
import stillwatch.rules.watch.BuildUpReview;
import stillwatch.rules.watch.WellWatch;
import stillwatch.station.option.InputException;

/** What a replay leaves for people: findings, trails and a page. */
public final class ReplayFolder implements AutoCloseable {
  private final Path path;
  private final String recording;
  private final Plan plan;
  private final OutputStream findings;
  private final TrailFile trails;
  private final ReplayPage page;
  private final WellPicture picture;
  private final Reviews reviews;

  private ReplayFolder(Path path, Plan plan, String recording) throws IOException {
    this.path = path;
    this.recording = recording;
    this.plan = plan;
    page = new ReplayPage(plan);
    reviews = new Reviews(plan);
    picture = new WellPicture(plan, Clock.systemUTC(), true);
    findings = new BufferedOutputStream(Files.newOutputStream(path.resolve("findings.ndjson")));
    trails = new TrailFile(path.resolve("trails.csv"));
  }

  /**
   * Makes the folder; what an earlier replay left there is written over.
   *
   * @param recording the recording's file name
   * @throws InputException when it cannot be made
   */
  public static ReplayFolder make(Path path, Plan plan, String recording) {
    try {
      Files.createDirectories(path);
      return new ReplayFolder(path, plan, recording);
    } catch (IOException e) {
      throw new InputException(
          path + ": cannot be written (" + e.getMessage() + "); give another folder with --out");
    }
  }

  /** The folder. */
  public Path path() {
    return path;
  }

  /** Sees what the gauges say and what is read from the build-up. */
  public WellWatch.Tap tap() {
    return new WellWatch.Tap() {
      @Override
      public void said(GaugesIndicator indicator) {
        trails.said(indicator);
      }

      @Override
      public void reviewed(BuildUpReview reviewed) {
        reviews.take(reviewed);
      }
    };
  }

  /** Writes a finding down. */
  public void finding(Finding finding) {
    page.finding(finding);
    try {
      findings.write(FindingCodec.encode(finding, recording));
      findings.write('\n');
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write the findings", e);
    }
  }

  /** The same entries, which the page sees as they pass. */
  public TelemetrySource listening(TelemetrySource source) {
    return new TelemetrySource() {
      @Override
      public @Nullable Telemetry next() throws IOException {
        Telemetry entry = source.next();
        if (entry != null) {
          picture.accept(entry);
          happening(entry);
        }
        return entry;
      }

      @Override
      public void close() throws IOException {
        source.close();
      }
    };
  }

  private void happening(Telemetry entry) {
    if (entry instanceof Operation o) {
      String gauge = o.gauge().isEmpty() ? "" : " " + o.gauge();
      page.happening(o.atMs(), o.what().wire() + gauge + by(o.by()) + ": " + o.text());
    } else if (entry instanceof Observation o) {
      page.happening(o.atMs(), o.means() + ", " + o.result().wire() + by(o.by()) + ": " + o.text());
    } else if (entry instanceof Decision d) {
      page.happening(d.atMs(), "decided: " + d.choice().wire() + by(d.by()) + ": " + d.why());
    } else if (entry instanceof Explanation e) {
      page.happening(
          e.atMs(),
          "change " + e.change() + " explained: " + e.cause().wire() + by(e.by()) + ": " + e.why());
    } else if (entry instanceof Attendance a) {
      page.happening(a.atMs(), LeavingWords.of(a));
    } else if (entry instanceof SurveyItem s) {
      page.happening(s.atMs(), SeabedWords.of(s) + by(s.by()));
    } else if (entry instanceof WeatherForecast f) {
      page.happening(f.atMs(), LeavingWords.of(f));
    }
  }

  private static String by(String who) {
    return who.isEmpty() ? "" : ", " + who;
  }

  /**
   * Writes the page, once everything was read.
   *
   * @param difference how the alerts of another plan differ; null when none was given
   */
  public void page(
      Path recording, Replay.Result result, Problems problems, @Nullable List<String> difference)
      throws IOException {
    if (difference != null) {
      page.difference(difference);
    }
    List<String> about = new ArrayList<>();
    about.add(inShort(recording, result));
    about.addAll(problems.report());
    BuildUpReview newest = reviews.newest();
    if (newest != null) {
      page.buildUp(newest, reviews.compared());
    }
    page.write(
        path.resolve("page.html"), plan.name() + ", replayed", String.join(" ", about), picture);
  }

  private String inShort(Path recording, Replay.Result result) {
    return "Recording %s, %s to %s; plan %s %s; %s alerts."
        .formatted(
            recording.getFileName(),
            UtcText.of(result.fromMs()),
            UtcText.of(result.toMs()),
            plan.revision(),
            plan.fingerprint(),
            result.findings());
  }

  @Override
  public void close() throws IOException {
    findings.close();
    trails.close();
  }
}
