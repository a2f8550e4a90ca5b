/** What no shell reads as anything but itself. */
const PLAIN = /^[\p{L}\p{N}._:=/\\+,@%-]+$/u;

/** A text as one word of a command line: in double quotes where it holds a blank or a mark that a shell would read. */
export const oneWord = (text: string): string =>
  PLAIN.test(text) ? text : `"${text.replace(/["$`]/g, "\\$&")}"`;
