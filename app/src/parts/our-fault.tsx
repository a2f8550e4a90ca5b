import { download } from "../state/download.ts";

/** A bug of ours, with the report to save. */
export const OurFault = ({ message }: { readonly message: string }) => (
  <>
    <p>Our fault, not your file's. The plan is safe.</p>
    <details>
      <summary>The report</summary>
      <pre>{message}</pre>
    </details>
    <button type="button" onClick={() => saveReport(message)}>
      Save the report
    </button>
  </>
);

function saveReport(message: string): void {
  const told = `bermplan ${__TOOL_VERSION__}\n${message}\n`;
  download("report.txt", new TextEncoder().encode(told), "text/plain");
}
