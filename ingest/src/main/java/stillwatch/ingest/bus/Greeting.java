package stillwatch.ingest.bus;

import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.security.cert.CertificateException;
import java.util.Map;
import javax.net.ssl.SSLException;
import javax.net.ssl.SSLSocket;
import javax.net.ssl.SSLSocketFactory;

/**
 * The first words with a broker, before a client is made. A client without TLS says of a broker
 * that wants it only that it does not answer, or reads the first bytes of the refusal as the length
 * of an answer, 352 megabytes, and runs out of memory.
 */
public final class Greeting {
  private static final int CONNECT_MS = 2_000;
  private static final int ANSWER_MS = 3_000;

  /** Content type "alert" and major version of a TLS record (RFC 8446, 5.1). */
  private static final int TLS_ALERT = 0x1503;

  private static final int API_VERSIONS = 18;

  private Greeting() {}

  /**
   * Whether one of the brokers wants TLS where the client does not speak it. What cannot be
   * reached, or does not answer at once, is not known to.
   *
   * @param bootstrap host:port, several separated by commas
   * @param client the client's properties; nobody is asked where these speak TLS themselves
   */
  public static boolean wantsTls(String bootstrap, Map<String, String> client) {
    if (client.getOrDefault("security.protocol", "PLAINTEXT").endsWith("SSL")) {
      return false;
    }
    for (String broker : bootstrap.split(",", -1)) {
      int colon = broker.lastIndexOf(':');
      if (colon > 0 && broker.substring(colon + 1).strip().matches("\\d{1,5}")) {
        String host = broker.substring(0, colon).strip().replaceAll("^\\[|]$", "");
        int port = Integer.parseInt(broker.substring(colon + 1).strip());
        if (refusesPlain(host, port) && speaksTls(host, port)) {
          return true;
        }
      }
    }
    return false;
  }

  /** Whether a broker that is there ends the connection, or alerts, when it is greeted plainly. */
  private static boolean refusesPlain(String host, int port) {
    try (Socket socket = new Socket()) {
      socket.connect(new InetSocketAddress(host, port), CONNECT_MS);
      socket.setSoTimeout(ANSWER_MS);
      return refuses(socket);
    } catch (IOException | IllegalArgumentException e) {
      return false; // the client says what is wrong, and may wait until it is put right
    }
  }

  private static boolean refuses(Socket socket) {
    try {
      DataOutputStream out = new DataOutputStream(socket.getOutputStream());
      out.writeInt(2 + 2 + 4 + 2); // a request of the Kafka protocol: which versions do you speak?
      out.writeShort(API_VERSIONS);
      out.writeShort(0);
      out.writeInt(1);
      out.writeShort(-1);
      out.flush();
      return new DataInputStream(socket.getInputStream()).readUnsignedShort() == TLS_ALERT;
    } catch (SocketTimeoutException e) {
      return false;
    } catch (IOException e) {
      return true;
    }
  }

  /** Whether it shows a certificate, known or not. */
  private static boolean speaksTls(String host, int port) {
    try (SSLSocket socket = (SSLSocket) SSLSocketFactory.getDefault().createSocket()) {
      socket.connect(new InetSocketAddress(host, port), CONNECT_MS);
      socket.setSoTimeout(ANSWER_MS);
      socket.startHandshake();
      return true;
    } catch (SSLException e) {
      return e.getCause() instanceof CertificateException;
    } catch (IOException e) {
      return false;
    }
  }
}
