package stillwatch.station;

import java.io.IOException;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.cert.X509Certificate;
import java.time.Duration;
import java.time.Instant;
import java.util.Base64;
import java.util.Date;
import org.bouncycastle.asn1.x500.X500Name;
import org.bouncycastle.asn1.x509.Extension;
import org.bouncycastle.asn1.x509.GeneralName;
import org.bouncycastle.asn1.x509.GeneralNames;
import org.bouncycastle.cert.jcajce.JcaX509CertificateConverter;
import org.bouncycastle.cert.jcajce.JcaX509v3CertificateBuilder;
import org.bouncycastle.operator.jcajce.JcaContentSignerBuilder;

/** Certificates and keys in PEM files. */
public final class Pem {
  private Pem() {}

  /** A certificate of its own for 127.0.0.1, in NAME.crt and NAME.key of the folder. */
  public static X509Certificate make(Path folder, String name, Instant until) throws Exception {
    KeyPairGenerator keys = KeyPairGenerator.getInstance("EC");
    keys.initialize(256);
    KeyPair pair = keys.generateKeyPair();
    X500Name who = new X500Name("CN=" + name);
    X509Certificate made =
        new JcaX509CertificateConverter()
            .getCertificate(
                new JcaX509v3CertificateBuilder(
                        who,
                        BigInteger.ONE,
                        Date.from(until.minus(Duration.ofDays(60))),
                        Date.from(until),
                        who,
                        pair.getPublic())
                    .addExtension(
                        Extension.subjectAlternativeName,
                        false,
                        new GeneralNames(new GeneralName(GeneralName.iPAddress, "127.0.0.1")))
                    .build(
                        new JcaContentSignerBuilder("SHA256withECDSA").build(pair.getPrivate())));
    write(folder.resolve(name + ".crt"), "CERTIFICATE", made.getEncoded());
    write(folder.resolve(name + ".key"), "PRIVATE KEY", pair.getPrivate().getEncoded());
    return made;
  }

  private static void write(Path file, String what, byte[] bytes) throws IOException {
    Files.writeString(
        file,
        "-----BEGIN "
            + what
            + "-----\n"
            + Base64.getMimeEncoder().encodeToString(bytes)
            + "\n-----END "
            + what
            + "-----\n");
  }
}
