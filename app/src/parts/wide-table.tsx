import type { ComponentChildren } from "preact";

/** A table wider than the bench, that scrolls by itself. */
export const WideTable = ({
  label,
  children,
}: {
  readonly label: string;
  readonly children: ComponentChildren;
}) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by key
  <section class="wide-table" tabIndex={0} aria-label={label}>
    {children}
  </section>
);
