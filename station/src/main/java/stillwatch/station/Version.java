package stillwatch.station;

import java.util.Optional;
import picocli.CommandLine.IVersionProvider;

/** What {@code --version} prints. */
final class Version implements IVersionProvider {
  @Override
  public String[] getVersion() {
    String version =
        Optional.ofNullable(Main.class.getPackage().getImplementationVersion())
            .orElse("of this checkout");
    return new String[] {"Stillwatch " + version, "Java " + Runtime.version()};
  }
}
