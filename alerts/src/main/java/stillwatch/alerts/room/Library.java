package stillwatch.alerts.room;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Properties;

/** The chart library's files, shipped inside the program, so that pages work without a network. */
public final class Library {
  private Library() {}

  /** A file of uPlot's distribution, for example {@code uPlot.min.css}. */
  public static String text(String file) throws IOException {
    Properties build = new Properties();
    try (InputStream in = Library.class.getResourceAsStream("/stillwatch/room/build.properties")) {
      if (in != null) {
        build.load(in);
      }
    }
    return resource(
        "/META-INF/resources/webjars/uplot/" + build.getProperty("uplot") + "/dist/" + file);
  }

  /** The function that draws a build-up's plots, as a script that is no module. */
  public static String buildUpPlots() throws IOException {
    return resource("/stillwatch/room/page/build-up.js").replace("export function", "function");
  }

  private static String resource(String path) throws IOException {
    try (InputStream in = Library.class.getResourceAsStream(path)) {
      if (in == null) {
        throw new IllegalStateException(path + " is missing from the program; build it again");
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }
}
