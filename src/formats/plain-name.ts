/** A name by its letters and digits alone, small: headings, fields and systems are compared so, however they are written. */
export const plainName = (name: string): string => name.toLowerCase().replaceAll(/[^a-z0-9]/g, "");
