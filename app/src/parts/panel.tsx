import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";

interface PanelProps {
  readonly class: string;
  readonly about: string;
  readonly close: () => void;
  readonly children: ComponentChildren;
}

/** A dialog over the page that takes the focus and closes by Escape; whoever opens it takes the focus back. */
export function Panel({ class: name, about, close, children }: PanelProps) {
  const panel = useRef<HTMLDivElement>(null);
  useEffect(() => panel.current?.focus(), []);
  return (
    <div
      class={name}
      role="dialog"
      aria-label={about}
      tabIndex={-1}
      ref={panel}
      onKeyDown={(event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        close();
      }}
    >
      {children}
      <button type="button" onClick={close}>
        Close
      </button>
    </div>
  );
}
