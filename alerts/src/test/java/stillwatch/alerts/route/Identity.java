package stillwatch.alerts.route;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyStore;
import java.util.ArrayList;
import java.util.List;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;
import stillwatch.ingest.entrance.Trust;

/**
 * A site's own authority and a server at 127.0.0.1 that it vouches for, as the JDK's {@code
 * keytool} makes them.
 */
record Identity(Path store) {
  static final String PASSWORD = "between us";

  static Identity make(Path folder) throws Exception {
    Path store = folder.resolve("peer.p12");
    keytool(store, "-genkeypair", "-alias", "authority", "-dname", "CN=Site", "-ext", "bc:c");
    keytool(
        store,
        "-genkeypair",
        "-alias",
        "server",
        "-dname",
        "CN=Peer",
        "-ext",
        "san=ip:127.0.0.1",
        "-signer",
        "authority");
    return new Identity(store);
  }

  private static void keytool(Path store, String... arguments)
      throws IOException, InterruptedException {
    List<String> line =
        new ArrayList<>(
            List.of(Path.of(System.getProperty("java.home"), "bin", "keytool").toString()));
    line.addAll(List.of(arguments));
    line.addAll(List.of("-keyalg", "EC", "-keystore", store.toString(), "-storepass", PASSWORD));
    Process p = new ProcessBuilder(line).redirectErrorStream(true).start();
    String said = new String(p.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    if (p.waitFor() != 0) {
      throw new IllegalStateException(said);
    }
  }

  private KeyStore read() throws Exception {
    KeyStore all = KeyStore.getInstance("PKCS12");
    try (InputStream in = Files.newInputStream(store)) {
      all.load(in, PASSWORD.toCharArray());
    }
    return all;
  }

  /** What the server speaks TLS with. */
  SSLContext server() throws Exception {
    KeyStore own = read();
    own.deleteEntry("authority");
    KeyManagerFactory keys = KeyManagerFactory.getInstance("PKIX");
    keys.init(own, PASSWORD.toCharArray());
    SSLContext made = SSLContext.getInstance("TLS");
    made.init(keys.getKeyManagers(), null, null);
    return made;
  }

  /** What somebody speaks TLS with who trusts the authority, and nobody else. */
  Trust trusting() throws Exception {
    KeyStore known = KeyStore.getInstance("PKCS12");
    known.load(null, null);
    known.setCertificateEntry("authority", read().getCertificate("authority"));
    return Trust.in(known);
  }
}
