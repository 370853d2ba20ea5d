package stillwatch.fieldbus.opcua;

import java.net.URI;
import java.nio.file.Path;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;

/** What a server or the way to it has wrong, in one sentence. */
final class Words {
  private Words() {}

  /** The standard's name of a status code (OPC 10000-6, annex A.2), else its digits. */
  static String name(StatusCode status) {
    return StatusCodes.lookup(status.getValue() & 0xFFFF_0000L)
        .map(names -> names[0])
        .orElse("status 0x%08X".formatted(status.getValue()));
  }

  /** Why this server's certificate is not trusted. */
  static String notTrusted(URI server, StatusCode status, Path trust) {
    return status.getValue() == StatusCodes.Bad_CertificateTimeInvalid
        ? "the certificate of %s is out of date or not valid yet; have it renewed, or set the clock"
            .formatted(server)
        : "the certificate of %s is not trusted here (%s); compare it, and put it or its authority into %s"
            .formatted(server, name(status), trust);
  }

  /** Why there is no session with this server. */
  static String noSession(URI server, Throwable fault, OpcuaPlan plan) {
    StatusCode status =
        UaException.extractStatusCode(fault).orElse(new StatusCode(StatusCodes.Bad_NotConnected));
    String said = " (" + name(status) + ")";
    long code = status.getValue();
    if (code == StatusCodes.Bad_SecurityChecksFailed
        || code == StatusCodes.Bad_SecurityPolicyRejected
        || code == StatusCodes.Bad_CertificateInvalid
        || code == StatusCodes.Bad_CertificateUriInvalid) {
      return "the server %s does not take this client's certificate%s; have it trust %s"
          .formatted(server, said, plan.certificate());
    }
    if (code == StatusCodes.Bad_UserAccessDenied
        || code == StatusCodes.Bad_IdentityTokenRejected
        || code == StatusCodes.Bad_IdentityTokenInvalid) {
      return "the server %s does not let %s in%s; correct user and password, or have it allow them"
          .formatted(server, plan.user() == null ? "nameless clients" : plan.user(), said);
    }
    return "the server %s cannot be reached%s; correct 'server', or start it"
        .formatted(server, said);
  }
}
