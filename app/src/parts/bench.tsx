import type { ComponentChildren } from "preact";
import { isOfBefore } from "../state/figures.ts";
import { InTurn } from "./in-turn.tsx";
import { Refused } from "./refused.tsx";

interface BenchProps {
  readonly title: string;
  /** Beside the title: what of the sheet is shown. */
  readonly aside?: ComponentChildren;
  readonly children: ComponentChildren;
  /** The one action of the sheet, and what stands beside it. */
  readonly actions?: ComponentChildren;
}

/** Parts of a sheet that are there at once: the number and its control. */
const AT_ONCE = 2;

/** The right column of a sheet: title, number, control, picture, table, flags; the action stays below. */
export const Bench = ({ title, aside, children, actions }: BenchProps) => (
  <section class="bench" id="bench" aria-label={title}>
    <Refused />
    {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by key */}
    <section class="scroll" tabIndex={0} aria-label={`${title}, figures`}>
      <header>
        <h2>{title}</h2>
        {aside}
      </header>
      <InTurn first={AT_ONCE}>{children}</InTurn>
    </section>
    {actions && <div class="actions">{actions}</div>}
  </section>
);

interface BigNumberProps {
  readonly value: string;
  readonly words: string;
}

/** The one number of a sheet. */
export const BigNumber = ({ value, words }: BigNumberProps) => (
  <p class="number">
    <span class="big">
      {isOfBefore.value && /^\d/.test(value) ? "~" : ""}
      {value}
    </span>{" "}
    <span class="second">{words}</span>
  </p>
);
