import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";

interface FoldProps {
  readonly title: string;
  /** Whether it begins open; then it stays as somebody left it. */
  readonly startsOpen?: boolean;
  readonly children: ComponentChildren;
}

/** A part of a sheet that folds, and never folds by itself while somebody works in it. */
export function Fold({ title, startsOpen = false, children }: FoldProps) {
  const [isOpen, setOpen] = useState(startsOpen);
  return (
    <details open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{title}</summary>
      {children}
    </details>
  );
}
