/** A supplier as people write it: blanks and case tell nobody apart. */
const folded = (supplier: string): string => supplier.trim().replaceAll(/\s+/g, " ").toLowerCase();

/**
 * Lines with each supplier by the name that stands first for it, among `known` before the lines themselves, and products
 * without blanks around them.
 */
export function oneNameEach<T extends { readonly supplier: string; readonly product?: string }>(
  lines: readonly T[],
  known: readonly { readonly supplier: string }[] = [],
): T[] {
  const names = new Map<string, string>();
  for (const { supplier } of [...known, ...lines]) {
    if (!names.has(folded(supplier))) names.set(folded(supplier), supplier.trim().replaceAll(/\s+/g, " "));
  }
  return lines.map((one) => ({
    ...one,
    ...(one.product === undefined ? {} : { product: one.product.trim() }),
    supplier: names.get(folded(one.supplier))!,
  }));
}
