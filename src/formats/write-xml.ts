/** Text made safe, once, for an attribute or an element; characters that XML 1.0 does not allow are dropped and line
 * breaks become blanks. */
export const escapeXml = (text: string): string =>
  text
    .replaceAll(/[\t\n\r]+/g, " ")
    .replaceAll(/[\p{Cc}\p{Cs}\ufffe\uffff]/gu, "")
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");

/** One element on one line, attributes in the order given; without children it is closed at once. */
export function xmlElement(
  name: string,
  attributes: Readonly<Record<string, string | number>>,
  children: readonly string[] = [],
): string {
  const pairs = Object.entries(attributes).map(([key, value]) => ` ${key}="${escapeXml(String(value))}"`);
  const open = `<${name}${pairs.join("")}`;
  return children.length === 0 ? `${open}/>` : `${open}>${children.join("")}</${name}>`;
}
