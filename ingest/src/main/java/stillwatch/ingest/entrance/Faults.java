package stillwatch.ingest.entrance;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.http.HttpStatus;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.server.handler.ErrorHandler;
import org.eclipse.jetty.util.Callback;
import org.jspecify.annotations.Nullable;

/** What a door answers to what is no request, or one it does not take: one sentence, as JSON. */
final class Faults extends ErrorHandler {
  private final Limits limits;

  Faults(Limits limits) {
    this.limits = limits;
  }

  /** Answers with one sentence; the body is {@code {"fault": why}}. */
  static void write(Response response, Callback callback, int status, String why) {
    response.setStatus(status);
    response.getHeaders().put(HttpHeader.CONTENT_TYPE, "application/json; charset=utf-8");
    if (status == 429 || status == 503) {
      response.getHeaders().put(HttpHeader.RETRY_AFTER, "1");
    }
    response.write(true, ByteBuffer.wrap(json(why)), callback);
  }

  private static byte[] json(String why) {
    return JsonNodeFactory.instance
        .objectNode()
        .put("fault", Texts.mended(why))
        .toString()
        .getBytes(StandardCharsets.UTF_8);
  }

  private String sentence(int status, @Nullable String message) {
    return switch (status) {
      case 404 -> "there is nothing here";
      case 408 -> "the request did not come within its time";
      case 431 -> "the head of the request is longer than " + limits.headBytes() + " bytes";
      case 500 -> "the request could not be served; the log of this program says why";
      default -> message == null ? "the request is not readable as HTTP" : message;
    };
  }

  @Override
  public boolean handle(Request request, Response response, Callback callback) {
    // a version of HTTP that nobody speaks is the sender's fault, as any other nonsense is
    int status =
        response.getStatus() == HttpStatus.HTTP_VERSION_NOT_SUPPORTED_505
            ? HttpStatus.BAD_REQUEST_400
            : response.getStatus();
    Object message = request.getAttribute(ERROR_MESSAGE);
    write(
        response, callback, status, sentence(status, message == null ? null : message.toString()));
    return true;
  }
}
