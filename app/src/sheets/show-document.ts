/**
 * Show a sheet made as a whole HTML document inside the page: its body in a shadow root, its style sheet adopted there
 * (the page's policy takes no style elements), rules for `body` and `html` turned to the host.
 */
export function showDocument(host: HTMLElement, html: string): void {
  const styles = /<style[^>]*>([\s\S]*?)<\/style>/gi;
  const css = [...html.matchAll(styles)].map((found) => found[1]!).join("\n");
  const read = new DOMParser().parseFromString(html.replaceAll(styles, ""), "text/html");
  const root = host.shadowRoot ?? host.attachShadow({ mode: "open" });
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(css.replaceAll(/(^|[\s,{}])(?:body|html)(?=[\s,{.:>])/g, "$1.document"));
  root.adoptedStyleSheets = [sheet];
  const body = document.createElement("div");
  body.className = "document";
  body.append(...read.body.childNodes);
  root.replaceChildren(body);
  for (const link of root.querySelectorAll<HTMLAnchorElement>("a[href^='#']")) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      root.querySelector(link.getAttribute("href")!)?.scrollIntoView();
    });
  }
}
