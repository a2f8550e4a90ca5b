import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";

interface FoldProps {
  readonly title: ComponentChildren;
  readonly class?: string;
  /** Whether it begins open; then it stays as somebody left it. */
  readonly startsOpen?: boolean;
  /** A function is called only when there is something to show. */
  readonly children: ComponentChildren | (() => ComponentChildren);
}

/**
 * A part of a sheet that folds, and never folds by itself while somebody works in it. What is inside is made when it
 * is first unfolded, so that a folded part costs a move nothing.
 */
export function Fold({ title, class: name, startsOpen = false, children }: FoldProps) {
  const [isOpen, setOpen] = useState(startsOpen);
  const [isFilled, setFilled] = useState(startsOpen);
  return (
    <details
      class={name}
      open={isOpen}
      onToggle={({ currentTarget: { open } }) => {
        setOpen(open);
        if (open) setFilled(true);
      }}
    >
      <summary>{title}</summary>
      {isFilled && (typeof children === "function" ? children() : children)}
    </details>
  );
}
