/** Policy of the page itself: nothing from elsewhere, no inline styles, WebAssembly allowed. */
const pagePolicy = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "worker-src 'self' blob:",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
].join("; ");

/** Policy of what lies in the opened folder: it may show itself, and run nothing. */
const openedPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";

const types: Readonly<Record<string, string>> = {
  html: "text/html; charset=utf-8",
  js: "text/javascript; charset=utf-8",
  css: "text/css; charset=utf-8",
  json: "application/json; charset=utf-8",
  geojson: "application/geo+json; charset=utf-8",
  csv: "text/csv; charset=utf-8",
  svg: "image/svg+xml",
  png: "image/png",
  wasm: "application/wasm",
  zip: "application/zip",
};

/** Headers of an answer; what has no known ending is sent as plain bytes and is never guessed at. */
export function headersFor(path: string, from: "page" | "opened"): Record<string, string> {
  const ending = path.slice(path.lastIndexOf(".") + 1).toLowerCase();
  return {
    "Content-Type": types[ending] ?? "application/octet-stream",
    "Content-Security-Policy": from === "page" ? pagePolicy : openedPolicy,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
  };
}
