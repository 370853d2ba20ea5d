package stillwatch.bench.faults;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** A mail server (RFC 5321) that takes every message. */
final class MailPeer extends SocketPeer {
  private static final Pattern ID = Pattern.compile("(?m)^Message-ID: <(.+)@stillwatch>$");
  private static final Pattern AGAIN = Pattern.compile("(?m)^Attempt [0-9]+: ");

  MailPeer() throws IOException {}

  @Override
  void talk(Socket with) {
    try (with;
        BufferedReader in =
            new BufferedReader(
                new InputStreamReader(with.getInputStream(), StandardCharsets.UTF_8))) {
      OutputStream out = with.getOutputStream();
      say(out, "220 ready");
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        switch (line.split(" ", 2)[0].toUpperCase(Locale.ROOT)) {
          case "DATA" -> {
            say(out, "354 go on");
            take(in);
            say(out, "250 taken");
          }
          case "QUIT" -> {
            say(out, "221 over");
            return;
          }
          default -> say(out, "250 well");
        }
      }
    } catch (IOException e) {
      return; // the line is cut: what was not taken whole is not taken
    }
  }

  private void take(BufferedReader in) throws IOException {
    StringBuilder text = new StringBuilder();
    for (String line = in.readLine(); !".".equals(line); line = in.readLine()) {
      if (line == null) {
        throw new IOException("cut in the middle of a message");
      }
      text.append(line).append('\n');
    }
    Matcher id = ID.matcher(text);
    received().took(id.find() ? id.group(1) : "without an id", AGAIN.matcher(text).find());
  }

  private static void say(OutputStream out, String line) throws IOException {
    out.write((line + "\r\n").getBytes(StandardCharsets.US_ASCII));
    out.flush();
  }
}
