package stillwatch.fieldbus.opcua;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.door.Inlet;
import stillwatch.ingest.door.Source;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.door.StandIn;
import stillwatch.ingest.entrance.Trust;

/**
 * Readings that an OPC UA server publishes (OPC 10000-4).
 *
 * @param server {@code opc.tcp://host:port}, perhaps with a path
 * @param every how often the server samples and publishes
 * @param security the security policy's name (OPC 10000-7), {@code None} without any
 * @param user null without
 * @param password the file that holds it; null without
 * @param certificate the PEM file of the certificate that it shows; null where it shows none
 * @param key the PEM file of that certificate's key; null without
 * @param trust the PEM file of the certificates that it trusts; null without security
 * @param items what is subscribed to, at least one
 */
record OpcuaPlan(
    URI server,
    Duration every,
    String security,
    @Nullable String user,
    @Nullable Path password,
    @Nullable Path certificate,
    @Nullable Path key,
    @Nullable Path trust,
    List<Item> items)
    implements SourcePlan.Brought {
  /** The policy that signs and encrypts nothing. */
  static final String OPEN = "None";

  @Override
  public List<String> gauges() {
    return items.stream().map(Item::gauge).toList();
  }

  @Override
  public Source source(Inlet inlet, Trust trusted) {
    return new OpcuaSource(this, inlet);
  }

  @Override
  public List<String> offers() throws IOException {
    try (Server at = Server.open(this)) {
      return new Offers(at.client()).lines();
    }
  }

  @Override
  public Optional<StandIn> standIn() throws IOException {
    return Optional.of(OpcuaStandIn.open(this));
  }
}
