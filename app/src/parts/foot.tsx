import { useRef, useState } from "preact/hooks";
import { type BalanceFigures, numberText, oxideText, UNKNOWN } from "#core";
import type { RateOfWork } from "../engine/protocol.ts";
import {
  area,
  before,
  dollars,
  type Figures,
  figures,
  heavy,
  mass,
  orderDollars,
  rate,
  shownFigures,
  tilde,
  words,
} from "../state/figures.ts";
import { plan } from "../state/opened.ts";
import { farm, isBehind, isDone, soFar } from "../state/results.ts";
import { BalanceBar } from "./balance-bar.tsx";
import { HowComputed } from "./how-computed.tsx";
import { InTurn } from "./in-turn.tsx";
import { ProgressLine } from "./progress-line.tsx";

/** The running balance: need = in the strip + broadcast later, what is short or over, rounding. */
export function Foot() {
  const now = figures.value;
  const [isOpen, setOpen] = useState(false);
  const button = useRef<HTMLButtonElement>(null);
  const close = () => {
    setOpen(false);
    button.current?.focus();
  };
  if (!plan.value) {
    return (
      <section class="foot" id="balance" aria-label="Balance">
        <div class="cell">
          <p class="label">Needs no internet while bermplan serve runs. Nothing leaves this computer.</p>
        </div>
      </section>
    );
  }
  const scopeWords = now?.scope === "farm" ? "whole farm" : "this field";
  return (
    <section class="foot" id="balance" aria-label="Balance" data-done={String(isDone.value)}>
      <InTurn first={0}>
        <output class="cell" aria-live="polite" data-behind={isBehind.value}>
          <BalanceTable scope={scopeWords} balances={now?.balances ?? unknown} isKnown={now !== null} />
        </output>
        <div class="cell">
          <p class="label">product, {words().heavy}</p>
          <table class="balance">
            <tbody>
              {(now?.products ?? []).map(({ product, lb }) => (
                <tr key={product}>
                  <th scope="row">{product}</th>
                  <td>
                    <Was now={lb} was={was(product)} text={(value) => heavy(value)} />
                    <b data-total={product}>
                      {about()}
                      {heavy(lb)}
                    </b>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
        {now?.work ? <WorkCell work={now.work} /> : <MeanCell now={now} />}
        <div class="cell">
          <p class="label">product, whole farm</p>
          <p class="sum">
            <Was now={orderDollars.value} was={before.value?.dollars} text={dollars} />
            {Number.isFinite(orderDollars.value) && about()}
            {dollars(orderDollars.value)}
          </p>
          <p class="label">{orderWords()}</p>
          <button
            type="button"
            class="open"
            ref={button}
            aria-expanded={isOpen}
            aria-haspopup="dialog"
            onClick={() => setOpen(!isOpen)}
          >
            How computed
          </button>
        </div>
      </InTurn>
      <ProgressLine />
      {isOpen && <HowComputed close={close} />}
    </section>
  );
}

/** Acres a day and a fill in this field, once the plan tells the rig. */
function WorkCell({ work }: { readonly work: RateOfWork }) {
  const was = before.value?.work ?? undefined;
  return (
    <div class="cell rate-of-work">
      <p class="label">{words().area} a day, steady</p>
      <p class="sum">
        <Was now={work.steadyAcPerDay} was={was?.steadyAcPerDay} text={(value) => area(value, 0)} />
        {about()}
        {area(work.steadyAcPerDay, 0)}
      </p>
      <p class="label">
        {area(work.fromFullAcPerDay, 0)} from full, {work.bound} the limit
      </p>
      <p class="label">
        {work.acPerFill === null
          ? "no product in the strip"
          : `${area(work.acPerFill)} ${words().area} a fill`}
      </p>
    </div>
  );
}

function MeanCell({ now }: { readonly now: Figures | null }) {
  return (
    <div class="cell strip-mean">
      <p class="label">in the strip, mean {words().rate}</p>
      <p class="sum">
        <Was
          now={now?.stripMeanLbPerAc ?? Number.NaN}
          was={before.value?.stripMeanLbPerAc}
          text={(value) => rate(value)}
        />
        {about()}
        {rate(now?.stripMeanLbPerAc ?? Number.NaN)}
      </p>
      <p class="label">
        {now?.scope === "farm"
          ? "of both products"
          : now === null
            ? UNKNOWN
            : now.ceilingLbPerAc === null
              ? "no ceiling needed"
              : `ceiling ${rate(now.ceilingLbPerAc)}`}
      </p>
    </div>
  );
}

const about = (): string => (figures.value ? tilde() : "");
const was = (product: string): number | undefined =>
  before.value?.products.find((one) => one.product === product)?.lb;

function orderWords(): string {
  const count = plan.value?.fields.length ?? 0;
  const missing = farm.value ? farm.value.incomplete : `${soFar.value.length} of ${count} fields`;
  if (missing !== "") return `${missing} worked out`;
  return Object.keys(plan.value?.pricesUsdPerTon ?? {}).length === 0
    ? "no price given yet"
    : "in the maps, no freight";
}

/** The figure before the last edit, small and struck through. */
function Was({
  now,
  was: old,
  text,
}: {
  now: number;
  was: number | undefined;
  text: (value: number) => string;
}) {
  if (old === undefined || text(old) === text(now)) return null;
  return (
    <del class="was">
      <span class="unseen">before: </span>
      {text(old)}
    </del>
  );
}

interface BalanceTableProps {
  readonly scope: string;
  readonly balances: readonly BalanceFigures[];
  readonly isKnown: boolean;
}

function BalanceTable({ scope, balances, isKnown }: BalanceTableProps) {
  const shown = balances.map(shownFigures);
  const isCredited = shown.some((one) => one.credits !== 0);
  const isShort = shown.some((one) => one.shortage !== 0);
  const isOver = shown.some((one) => one.excess !== 0);
  const text = (value: number) => (isKnown ? `${about()}${numberText(value, 0)}` : UNKNOWN);
  return (
    <table class="balance lines-of-balance">
      <caption>
        {scope}: need = strip + broadcast{isCredited ? " + credits" : ""}
        {isShort ? " + short" : ""}
        {isOver ? " − over" : ""}, rounding; {words().mass}
      </caption>
      <thead>
        <tr>
          <th scope="col">
            {scope}, {words().mass}
          </th>
          <th scope="col">need</th>
          <td class="sign" />
          <th scope="col">in the strip</th>
          <td class="sign" />
          <th scope="col">broadcast later</th>
          {isCredited && <td class="sign" />}
          {isCredited && <th scope="col">credits</th>}
          {isShort && <td class="sign" />}
          {isShort && <th scope="col">short</th>}
          {isOver && <td class="sign" />}
          {isOver && <th scope="col">over</th>}
          <td class="sign" />
          <th scope="col">rounding</th>
          <td class="bar-column" />
        </tr>
      </thead>
      <tbody>
        {balances.map((balance, k) => {
          const one = shown[k]!;
          return (
            <tr key={balance.nutrient} data-oxide={balance.nutrient}>
              <th scope="row">{oxideText(balance.nutrient)}</th>
              <td data-part="need">
                <Was now={balance.needLb} was={wasNeed(balance.nutrient)} text={mass} />
                {text(one.need)}
              </td>
              <td class="sign">=</td>
              <td data-part="strip">{text(one.strip)}</td>
              <td class="sign">+</td>
              <td data-part="broadcast">{text(one.broadcast)}</td>
              {isCredited && <td class="sign">+</td>}
              {isCredited && <td data-part="credits">{text(one.credits)}</td>}
              {isShort && <td class="sign">+</td>}
              {isShort && <td data-part="short">{text(one.shortage)}</td>}
              {isOver && <td class="sign">−</td>}
              {isOver && <td data-part="over">{text(one.excess)}</td>}
              <td class="sign">{one.rounding > 0 ? "−" : "+"}</td>
              <td data-part="rounding">{text(Math.abs(one.rounding))}</td>
              <td class="bar-column">{isKnown && <BalanceBar balance={balance} />}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

const wasNeed = (nutrient: string): number | undefined =>
  before.value?.balances.find((one) => one.nutrient === nutrient)?.needLb;

const unknown: readonly BalanceFigures[] = (["P2O5", "K2O"] as const).map((nutrient) => ({
  nutrient,
  needLb: Number.NaN,
  stripLb: Number.NaN,
  broadcastLb: Number.NaN,
  creditsLb: Number.NaN,
  shortageLb: Number.NaN,
  excessLb: Number.NaN,
  roundingLb: Number.NaN,
}));
