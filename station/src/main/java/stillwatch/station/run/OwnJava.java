package stillwatch.station.run;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * A further process of this program, by the Java and the classes of this one. It starts soon: with
 * the first compiler alone.
 */
public final class OwnJava {
  private OwnJava() {}

  /**
   * Its command line.
   *
   * @param options more options for Java
   * @param main the class to run
   * @param arguments what it is given
   */
  public static List<String> line(List<String> options, String main, List<String> arguments) {
    List<String> line = new ArrayList<>();
    line.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    line.addAll(List.of("-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1"));
    line.addAll(options);
    line.addAll(List.of("-cp", System.getProperty("java.class.path"), main));
    line.addAll(arguments);
    return line;
  }
}
