/** How deep arrays and objects of a JSON text are nested, counted before it is parsed; strings do not count. */
export function jsonDepth(text: string): number {
  let depth = 0;
  let deepest = 0;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === 0x22) {
      at += 1;
      while (at < text.length && text.charCodeAt(at) !== 0x22) at += text.charCodeAt(at) === 0x5c ? 2 : 1;
    } else if (code === 0x5b || code === 0x7b) {
      depth += 1;
      if (depth > deepest) deepest = depth;
    } else if (code === 0x5d || code === 0x7d) {
      depth -= 1;
    }
  }
  return deepest;
}
