/** A long list cut to its beginning, and how many are left off. */
export const firstOf = (items: readonly string[], most = 12): readonly string[] =>
  items.length <= most ? items : [...items.slice(0, most), `and ${items.length - most} more`];
