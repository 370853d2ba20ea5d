package stillwatch.fieldbus.opcua;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyPair;
import java.security.cert.X509Certificate;
import java.util.List;
import java.util.Set;
import nl.altindag.ssl.exception.GenericException;
import nl.altindag.ssl.pem.util.PemUtils;
import org.eclipse.milo.opcua.sdk.client.OpcUaClientConfigBuilder;
import org.eclipse.milo.opcua.sdk.client.identity.UsernameProvider;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.security.CertificateValidator;
import org.eclipse.milo.opcua.stack.core.security.DefaultClientCertificateValidator;
import org.eclipse.milo.opcua.stack.core.security.MemoryCertificateQuarantine;
import org.eclipse.milo.opcua.stack.core.security.MemoryTrustListManager;
import org.eclipse.milo.opcua.stack.core.types.structured.EndpointDescription;
import org.eclipse.milo.opcua.stack.core.util.CertificateUtil;
import org.eclipse.milo.opcua.stack.core.util.validation.CertificateValidationUtil;
import org.eclipse.milo.opcua.stack.core.util.validation.ValidationCheck;
import org.jspecify.annotations.Nullable;

/** Who this client is, and whom it trusts, from the files that the plan names. */
final class ClientIdentity {
  private ClientIdentity() {}

  /**
   * Puts it into the settings of a client, read again each time.
   *
   * @throws IOException when a file does not hold what it should, in a sentence
   */
  static void put(OpcuaPlan plan, OpcUaClientConfigBuilder into) throws IOException {
    Path certificate = plan.certificate();
    Path key = plan.key();
    CertificateValidator trusted = trusted(plan.trust());
    into.setCertificateValidator(trusted);
    if (certificate != null && key != null) {
      List<X509Certificate> chain = certificates(certificate);
      into.setCertificate(chain.get(0));
      into.setCertificateChain(chain.toArray(X509Certificate[]::new));
      into.setKeyPair(keys(chain.get(0), key));
      into.setApplicationUri(uri(chain.get(0), certificate));
    }
    String user = plan.user();
    Path password = plan.password();
    if (user != null && password != null) {
      into.setIdentityProvider(new UsernameProvider(user, readable(password).strip(), trusted));
    }
  }

  /**
   * Looks whether the server's certificate is trusted, before any secret goes out.
   *
   * @throws IOException when it is not, in a sentence
   */
  static void check(EndpointDescription endpoint, OpcuaPlan plan) throws IOException {
    Path trust = plan.trust();
    if (trust == null || plan.security().equals(OpcuaPlan.OPEN)) {
      return;
    }
    try {
      trusted(trust)
          .validateCertificateChain(
              CertificateUtil.decodeCertificates(endpoint.getServerCertificate().bytesOrEmpty()),
              null,
              null);
    } catch (UaException e) {
      throw new IOException(Words.notTrusted(plan.server(), e.getStatusCode(), trust), e);
    }
  }

  private static String uri(X509Certificate certificate, Path file) throws IOException {
    try {
      return CertificateValidationUtil.getSubjectAltNameUri(certificate);
    } catch (UaException e) {
      throw new IOException(
          file
              + " has no application URI among its subject alternative names, which OPC UA wants; make one with it",
          e);
    }
  }

  /** Trusts the certificates of this file, and those that one of them has signed. */
  private static CertificateValidator trusted(@Nullable Path file) throws IOException {
    MemoryTrustListManager list = new MemoryTrustListManager();
    if (file != null) {
      list.setTrustedCertificates(certificates(file));
    }
    return new DefaultClientCertificateValidator(
        list, Set.of(ValidationCheck.VALIDITY), new MemoryCertificateQuarantine());
  }

  private static KeyPair keys(X509Certificate certificate, Path key) throws IOException {
    try {
      return new KeyPair(certificate.getPublicKey(), PemUtils.parsePrivateKey(readable(key)));
    } catch (GenericException | IllegalArgumentException e) {
      throw new IOException(key + " holds no private key in PEM form without a passphrase", e);
    }
  }

  /** At least one. */
  private static List<X509Certificate> certificates(Path file) throws IOException {
    List<X509Certificate> found = List.of();
    String text = readable(file);
    try {
      found = PemUtils.parseCertificate(text);
    } catch (GenericException | IllegalArgumentException e) {
      // it holds none
    }
    if (found.isEmpty()) {
      throw new IOException(
          file + " holds no certificate in PEM form (-----BEGIN CERTIFICATE-----)");
    }
    return found;
  }

  private static String readable(Path file) throws IOException {
    try {
      return Files.readString(file, StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new IOException(file + " cannot be read: there is none, or it may not be read", e);
    }
  }
}
