import type { ComponentChildren } from "preact";
import { useLayoutEffect, useState } from "preact/hooks";
import { soon } from "../engine/yielding.ts";

interface InTurnProps {
  /** Parts that are there at once. */
  readonly first: number;
  readonly children: ComponentChildren;
}

/**
 * Parts one below or beside the other: the first at once, then one a task, so that a sheet that opens never holds up
 * the page. Later they change together like any others.
 */
export function InTurn({ first, children }: InTurnProps) {
  const parts = Array.isArray(children) ? children : [children];
  const [count, setCount] = useState(first);
  const isWhole = count >= parts.length;
  useLayoutEffect(() => (isWhole ? undefined : soon(() => setCount(count + 1))), [count, isWhole]);
  return <>{isWhole ? parts : parts.map((part, k) => (k < count ? part : null))}</>;
}
