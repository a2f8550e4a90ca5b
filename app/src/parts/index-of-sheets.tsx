import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { doubtCount } from "../state/doubt-or-remark.ts";
import { scope } from "../state/figures.ts";
import { doubts, type SheetState, sharesDone, sheetStates } from "../state/how-far.ts";
import { chosenField } from "../state/look.ts";
import { plan } from "../state/opened.ts";
import { here, writeHash } from "../state/route.ts";
import { sectionPaths } from "./section-paths.ts";
import { sheets } from "./sheets.ts";
import { Flag } from "./sign.tsx";

/**
 * The sheets as a cross-section of ground: a berm under a finished sheet, residue under one not begun, a broken
 * berm under one out of date; the open sheet is open paper under a signal bar. For the whole farm a berm is as wide as
 * the share of its acres done.
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
      // On a narrow screen the names are moved sideways under a row that is wider than it; the open one is brought in.
      const { clientWidth, scrollWidth } = nav.current;
      if (scrollWidth > clientWidth) {
        const link = nav.current.querySelector<HTMLElement>("[aria-current]");
        if (link) nav.current.scrollLeft = link.offsetLeft - (clientWidth - link.offsetWidth) / 2;
      }
      const left = nav.current.getBoundingClientRect().left - nav.current.scrollLeft;
      setHeight(nav.current.clientHeight);
      setEdges(
        [...nav.current.querySelectorAll("a")].map((link) => {
          const box = link.getBoundingClientRect();
          return [box.left - left, box.right - left];
        }),
      );
    };
    // The watcher measures at once, when the page has its layout anyway.
    const watcher = new ResizeObserver(measure);
    if (nav.current) watcher.observe(nav.current);
    // A flag or a word beside one name moves the others.
    for (const link of nav.current?.querySelectorAll("a") ?? []) watcher.observe(link);
    return () => watcher.disconnect();
  }, [open]);
  const states = sheetStates.value;
  const shapes = sheets.map(
    ({ name }): SheetState => (name === open ? "open" : plan.value ? states[name] : "not begun"),
  );
  const many = (plan.value?.fields.length ?? 0) > 1;
  const shares =
    scope.value === "farm" && many ? sheets.map(({ name }) => sharesDone.value[name] ?? 0) : null;
  const { ground, broken, residue, bar } = sectionPaths(edges, shapes, height, shares);
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
            field: chosenField.value ?? "",
            part: "",
          })}
          aria-current={name === open ? "page" : undefined}
        >
          {number > 0 && <span class="no">{number}</span>}
          <span class="long">{title}</span>
          <span class="short">{short}</span>
          <Flag count={doubtCount(doubts.value[name] ?? [])} />
          {shares && name !== open ? (
            <ShareWord share={shares[number]!} />
          ) : (
            <StateWord state={shapes[number]!} />
          )}
        </a>
      ))}
    </nav>
  );
}

/** How much of the farm is done, in words: the berm shows it by its width. */
const ShareWord = ({ share }: { share: number }) =>
  share === 0 ? null : (
    <span class="state">
      {share > 0.9995 ? "done" : `${Math.max(1, Math.min(99, Math.round(100 * share)))} %`}
    </span>
  );

/** The state in words, beside the berm. */
const StateWord = ({ state }: { state: SheetState }) =>
  state === "done" || state === "out of date" ? <span class="state">{state}</span> : null;
