package stillwatch.alerts.route;

import jakarta.activation.DataHandler;
import jakarta.mail.Authenticator;
import jakarta.mail.Message;
import jakarta.mail.MessagingException;
import jakarta.mail.PasswordAuthentication;
import jakarta.mail.Session;
import jakarta.mail.Transport;
import jakarta.mail.internet.InternetAddress;
import jakarta.mail.internet.MimeBodyPart;
import jakarta.mail.internet.MimeMessage;
import jakarta.mail.internet.MimeMultipart;
import jakarta.mail.util.ByteArrayDataSource;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Date;
import java.util.Properties;
import javax.net.ssl.SSLContext;
import stillwatch.rules.plan.RoutePlan;

/**
 * Sends alerts by e-mail (RFC 5321): plain text, the trail as a picture, and the alert in the
 * Common Alerting Protocol for programs. The Message-ID is the same in every attempt.
 */
final class MailRoute implements Route {
  private static final String PATIENCE_MS = "10000";

  private final RoutePlan plan;
  private final RoutePlan.Mail mail;
  private final SSLContext tls;

  MailRoute(RoutePlan plan, RoutePlan.Mail mail, SSLContext tls) {
    this.tls = tls;
    this.plan = plan;
    this.mail = mail;
  }

  @Override
  public RoutePlan plan() {
    return plan;
  }

  @Override
  public void deliver(Delivery d) throws DeliveryException {
    try {
      boolean picture = TrailPicture.possible(d.finding());
      MimeMultipart parts = new MimeMultipart();
      parts.addBodyPart(text(d, picture));
      if (picture) {
        parts.addBodyPart(attached(TrailPicture.png(d.finding()), "image/png", "trail.png"));
      }
      byte[] cap = CommonAlert.of(d, mail.sender()).getBytes(StandardCharsets.UTF_8);
      parts.addBodyPart(attached(cap, "application/cap+xml", "alert.cap.xml"));
      send(d.id(), AlertText.line(d), parts);
    } catch (MessagingException e) {
      throw failed(e);
    }
  }

  private static MimeBodyPart text(Delivery d, boolean picture) throws MessagingException {
    MimeBodyPart text = new MimeBodyPart();
    String seen = picture ? "\n" + TrailPicture.words(d.finding()) + "\n" : "";
    text.setText(AlertText.body(d) + seen, "UTF-8");
    return text;
  }

  @Override
  public void digest(String text) throws DeliveryException {
    try {
      MimeMultipart parts = new MimeMultipart();
      MimeBodyPart body = new MimeBodyPart();
      body.setText(text, "UTF-8");
      parts.addBodyPart(body);
      send("digest-" + System.currentTimeMillis(), text.lines().findFirst().orElse(""), parts);
    } catch (MessagingException e) {
      throw failed(e);
    }
  }

  private DeliveryException failed(MessagingException e) {
    return DeliveryException.because(
        "the mail server " + mail.host() + ":" + mail.port() + " did not take it", e);
  }

  private static MimeBodyPart attached(byte[] bytes, String type, String name)
      throws MessagingException {
    MimeBodyPart part = new MimeBodyPart();
    part.setDataHandler(new DataHandler(new ByteArrayDataSource(bytes, type)));
    part.setFileName(name);
    return part;
  }

  private void send(String id, String subject, MimeMultipart parts)
      throws MessagingException, DeliveryException {
    MimeMessage message = new IdentifiedMessage(session(), "<" + id + "@stillwatch>");
    message.setFrom(new InternetAddress(mail.sender()));
    for (String to : mail.to()) {
      message.addRecipient(Message.RecipientType.TO, new InternetAddress(to));
    }
    message.setSubject(subject, "UTF-8");
    message.setSentDate(Date.from(Instant.now()));
    message.setHeader("Auto-Submitted", "auto-generated"); // RFC 3834: nobody's holiday answers it
    message.setContent(parts);
    message.saveChanges();
    Transport.send(message);
  }

  private Session session() throws DeliveryException {
    Properties p = connection();
    String user = mail.user();
    Path file = mail.password();
    if (user == null || file == null) {
      return Session.getInstance(p);
    }
    p.put("mail.smtp.auth", "true");
    String password = SecretFile.read(file);
    return Session.getInstance(
        p,
        new Authenticator() {
          @Override
          protected PasswordAuthentication getPasswordAuthentication() {
            return new PasswordAuthentication(user, password);
          }
        });
  }

  private Properties connection() {
    Properties p = new Properties();
    p.put("mail.smtp.host", mail.host());
    p.put("mail.smtp.port", Integer.toString(mail.port()));
    p.put("mail.smtp.connectiontimeout", PATIENCE_MS);
    p.put("mail.smtp.timeout", PATIENCE_MS);
    p.put("mail.smtp.writetimeout", PATIENCE_MS);
    p.put("mail.smtp.starttls.enable", Boolean.toString(mail.tls()));
    p.put("mail.smtp.starttls.required", Boolean.toString(mail.tls()));
    p.put("mail.smtp.ssl.checkserveridentity", "true");
    p.put("mail.smtp.ssl.socketFactory", tls.getSocketFactory());
    return p;
  }

  /** A message whose id is ours. */
  private static final class IdentifiedMessage extends MimeMessage {
    private final String id;

    IdentifiedMessage(Session session, String id) {
      super(session);
      this.id = id;
    }

    @Override
    protected void updateMessageID() throws MessagingException {
      setHeader("Message-ID", id);
    }
  }
}
