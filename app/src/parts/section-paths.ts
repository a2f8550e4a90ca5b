import type { SheetState } from "../state/how-far.ts";

/** How high a berm stands, px, and how far its sides lean. */
const BERM = { height: 9, lean: 5, inset: 14 };

interface SectionPaths {
  readonly ground: string;
  readonly broken: string;
  readonly residue: string;
  readonly bar: string;
}

/**
 * The ground line under the sheets' names, px from the left; `edges` are the names' left and right ends. With `shares`
 * a berm is as wide as the share of the farm's acres that are done, and residue lies on the rest.
 */
export function sectionPaths(
  edges: readonly (readonly [number, number])[],
  states: readonly SheetState[],
  height: number,
  shares: readonly number[] | null = null,
): SectionPaths {
  const y = height - 2;
  const paths = { ground: "", broken: "", residue: "", bar: "" };
  edges.forEach(([left, right], k) => {
    const state = states[k];
    const wide = right - left - 2 * BERM.inset;
    const share = shares?.[k] ?? 1;
    const end = left + BERM.inset + Math.max(wide * share, 2 * BERM.lean + 2);
    const berm = `H${left + BERM.inset}l${BERM.lean} ${-BERM.height}H${end - BERM.lean}l${BERM.lean} ${BERM.height}H${right}`;
    const residue = (from: number) => {
      for (let x = from; x < right - BERM.inset; x += 9) paths.residue += `M${x} ${y - 1}l5 -3`;
    };
    if (state === "open") {
      paths.ground += `M${left + 0.7} ${y}V2M${right - 0.7} 2V${y}`;
      paths.bar += `M${left} 1.5H${right}`;
    } else if (shares) {
      paths.ground += share > 0 ? `M${left} ${y}${berm}` : `M${left} ${y}H${right}`;
      if (share < 1) residue(share > 0 ? end + 5 : left + BERM.inset);
    } else if (state === "done") {
      paths.ground += `M${left} ${y}${berm}`;
    } else if (state === "out of date") {
      paths.broken += `M${left} ${y}${berm}`;
    } else {
      paths.ground += `M${left} ${y}H${right}`;
      residue(left + BERM.inset);
    }
  });
  return paths;
}
