/** How much of a long list is told. */
const MOST = 12;

/** A long list cut to its beginning, and how many are left off. */
export const firstOf = (items: readonly string[]): readonly string[] =>
  items.length <= MOST ? items : [...items.slice(0, MOST), `and ${items.length - MOST} more`];
