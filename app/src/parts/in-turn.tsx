import type { ComponentChildren } from "preact";
import { useLayoutEffect, useState } from "preact/hooks";

interface InTurnProps {
  /** Parts that are there at once. */
  readonly first: number;
  readonly children: ComponentChildren;
}

/**
 * Parts of a sheet one below the other: the first at once, then one a task, so that a sheet that opens never holds up
 * the page. Later they change together like any others.
 */
export function InTurn({ first, children }: InTurnProps) {
  const parts = Array.isArray(children) ? children : [children];
  const [count, setCount] = useState(first);
  const isWhole = count >= parts.length;
  useLayoutEffect(() => (isWhole ? undefined : soon(() => setCount(count + 1))), [count, isWhole]);
  return <>{isWhole ? parts : parts.map((part, k) => (k < count ? part : null))}</>;
}

/** Do something in a task of its own; what is returned calls it off. */
function soon(act: () => void): () => void {
  const { port1, port2 } = new MessageChannel();
  const end = () => port1.close();
  port1.onmessage = () => {
    end();
    act();
  };
  port2.postMessage(null);
  return end;
}
