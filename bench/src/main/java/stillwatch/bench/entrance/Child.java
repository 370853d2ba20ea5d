package stillwatch.bench.entrance;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** A live watch of Larkspur-2 in a process of its own with half a gigabyte of heap. */
final class Child implements AutoCloseable {
  /** The SHA-256 of {@link #TOKEN}. */
  private static final String DIGEST =
      "2bb80d537b1da3e38bd30361aa855686bde0eacd7162fef6a25fe97bf527a25b";

  static final String TOKEN = "secret";

  private static final Pattern PORT = Pattern.compile("Page .*:([0-9]+)/");
  private static final Pattern LINK = Pattern.compile("#enter=([A-Za-z0-9_-]+)");

  private final Process process;
  private final int port;
  private final String link;

  /** Starts one whose alerts go to this port of this machine. */
  Child(Path folder, int webhook) throws IOException {
    Path plan = folder.resolve("plan.yaml");
    Files.writeString(
        plan,
        Files.readString(Path.of("demo-data/larkspur/plan.yaml"))
            + "\nroutes:\n  webhooks: [{name: crowd, url: \"http://127.0.0.1:"
            + webhook
            + "/\", from: low}]\n");
    Path tokens = folder.resolve("tokens");
    Files.writeString(tokens, "crowd operate " + DIGEST + "\n");
    List<String> line = new ArrayList<>();
    line.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    line.addAll(List.of("-Xmx512m", "-XX:+UseSerialGC", "-XX:+ExitOnOutOfMemoryError", "-cp"));
    line.add(System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")));
    line.addAll(List.of("stillwatch.station.Main", "watch", "--http", "0"));
    line.addAll(List.of("--plan", plan.toString(), "--tokens", tokens.toString()));
    line.addAll(List.of("--data", folder.resolve("data").toString()));
    process = new ProcessBuilder(line).redirectError(folder.resolve("err").toFile()).start();
    BufferedReader out = process.inputReader();
    port = Integer.parseInt(said(out, PORT));
    link = said(out, LINK);
    Thread drain = new Thread(() -> out.lines().forEach(l -> {}), "drain");
    drain.setDaemon(true);
    drain.start();
  }

  private static String said(BufferedReader out, Pattern pattern) throws IOException {
    for (String line = out.readLine(); line != null; line = out.readLine()) {
      Matcher m = pattern.matcher(line);
      if (m.find()) {
        return m.group(1);
      }
    }
    throw new IllegalStateException("the watch ended before it said " + pattern);
  }

  int port() {
    return port;
  }

  /** The secret by which the first administrator enters. */
  String link() {
    return link;
  }

  boolean alive() {
    return process.isAlive();
  }

  @Override
  public void close() {
    process.destroyForcibly();
  }
}
