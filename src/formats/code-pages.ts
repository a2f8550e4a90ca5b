export type CodePage = "windows-1252" | "IBM437" | "IBM850";

/** Characters of bytes 128 to 255; below 128 all three are ASCII. Unassigned bytes give their own number, as in
 * the WHATWG Encoding Standard. Source: the Unicode Consortium's mapping tables CP1252, CP437, CP850. */
const UPPER_HALVES: Readonly<Record<CodePage, string>> = {
  "windows-1252":
    "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ\u00a0¡¢£¤¥¦§¨©ª«¬\u00ad®¯°±²³´µ¶·¸¹º»¼½¾¿" +
    "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖ×ØÙÚÛÜÝÞßàáâãäåæçèéêëìíîïðñòóôõö÷øùúûüýþÿ",
  IBM437:
    "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒáíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐" +
    "└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u00a0",
  IBM850:
    "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜø£Ø×ƒáíóúñÑªº¿®¬½¼¡«»░▒▓│┤ÁÂÀ©╣║╗╝¢¥┐" +
    "└┴┬├─┼ãÃ╚╔╩╦╠═╬¤ðÐÊËÈıÍÎÏ┘┌█▄¦Ì▀ÓßÔÒõÕµþÞÚÛÙýÝ¯´\u00ad±‗¾¶§÷¸°¨·¹³²■\u00a0",
};

/** Text of bytes in a one-byte code page. */
export function codePageText(bytes: Uint8Array, codePage: CodePage): string {
  const upper = UPPER_HALVES[codePage];
  const pieces: string[] = [];
  let piece = "";
  for (const byte of bytes) {
    piece += byte < 128 ? String.fromCharCode(byte) : upper[byte - 128];
    if (piece.length === 4096) {
      pieces.push(piece);
      piece = "";
    }
  }
  return pieces.join("") + piece;
}
