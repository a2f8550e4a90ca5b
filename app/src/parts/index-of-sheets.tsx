import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { doubtCount } from "../state/doubt-or-remark.ts";
import { doubts, type SheetState, sheetStates } from "../state/how-far.ts";
import { chosenField } from "../state/look.ts";
import { plan } from "../state/opened.ts";
import { here, writeHash } from "../state/route.ts";
import { sectionPaths } from "./section-paths.ts";
import { sheets } from "./sheets.ts";
import { Flag } from "./sign.tsx";

/**
 * The sheets as a cross-section of ground: a berm under a finished sheet, residue under one not begun, a broken
 * berm under one out of date; the open sheet is open paper under a signal bar.
 */
export function IndexOfSheets() {
  const nav = useRef<HTMLElement>(null);
  const [edges, setEdges] = useState<readonly (readonly [number, number])[]>([]);
  const [height, setHeight] = useState(48);
  const open = here.value.sheet;
  // The open sheet's title is bold, and wider.
  useLayoutEffect(() => {
    const measure = () => {
      if (!nav.current) return;
      const left = nav.current.getBoundingClientRect().left;
      setHeight(nav.current.clientHeight);
      setEdges(
        [...nav.current.querySelectorAll("a")].map((link) => {
          const box = link.getBoundingClientRect();
          return [box.left - left, box.right - left];
        }),
      );
    };
    const watcher = new ResizeObserver(measure);
    if (nav.current) watcher.observe(nav.current);
    measure();
    return () => watcher.disconnect();
  }, [open]);
  const states = sheetStates.value;
  const shapes = sheets.map(
    ({ name }): SheetState => (name === open ? "open" : plan.value ? states[name] : "not begun"),
  );
  const { ground, broken, residue, bar } = sectionPaths(edges, shapes, height);
  return (
    <nav class="index" aria-label="Sheets" ref={nav}>
      <svg class="ground" aria-hidden="true">
        <path d={residue} fill="none" stroke="var(--line)" stroke-width="0.8" />
        <path d={ground} fill="none" stroke="var(--ink)" stroke-width="1.4" />
        <path d={broken} fill="none" stroke="var(--ink)" stroke-width="1.4" stroke-dasharray="5 4" />
        <path d={bar} fill="none" stroke="var(--flag)" stroke-width="3" />
      </svg>
      {sheets.map(({ name, title, short }, number) => (
        <a
          key={name}
          href={writeHash({
            sheet: name,
            field: name === "farm" || name === "order" ? "" : (chosenField.value ?? ""),
            part: "",
          })}
          aria-current={name === open ? "page" : undefined}
        >
          {number > 0 && <span class="no">{number}</span>}
          <span class="long">{title}</span>
          <span class="short">{short}</span>
          <Flag count={doubtCount(doubts.value[name] ?? [])} />
          <StateWord state={shapes[number]!} />
        </a>
      ))}
    </nav>
  );
}

/** The state in words, beside the berm. */
const StateWord = ({ state }: { state: SheetState }) =>
  state === "done" || state === "out of date" ? <span class="state">{state}</span> : null;
