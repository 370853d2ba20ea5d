package stillwatch.alerts.report;

import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import com.openhtmltopdf.util.XRLog;
import java.io.IOException;
import java.io.OutputStream;

/** A report as PDF. */
public final class ReportPdf {
  private ReportPdf() {}

  /**
   * Writes it.
   *
   * @param xhtml what {@link Report#of} made
   */
  public static void write(String xhtml, OutputStream out) throws IOException {
    XRLog.setLoggingEnabled(false);
    PdfRendererBuilder builder = new PdfRendererBuilder();
    builder.useFastMode();
    builder.useSVGDrawer(new BatikSVGDrawer());
    builder.withHtmlContent(xhtml, "");
    builder.toStream(out);
    builder.run();
  }
}
