/** Keys to set; null takes a key out. */
export type Patch<T> = { readonly [K in keyof T]?: T[K] | null };

export function patched<T extends object>(of: T, patch: Patch<T>): T {
  const next = { ...of } as Record<string, unknown>;
  for (const [key, value] of Object.entries(patch)) {
    if (value === null || value === undefined) delete next[key];
    else next[key] = value;
  }
  return next as T;
}
