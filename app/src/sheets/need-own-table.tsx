import { useState } from "preact/hooks";
import { elementOf, type Oxide, oxideText, type PlanOwnGuide } from "#core";
import { DraftInput } from "../parts/draft-input.tsx";
import { type Refusal, typedNumber } from "../parts/take-number.ts";
import { planField } from "../state/look.ts";
import { type OwnPlace, type OwnRow, ownRows, ownRowsDoubt, withOwnRows } from "../state/need-edits.ts";
import { edit, plan, readOnly } from "../state/opened.ts";

/** The user's own tables of this oxide, edited in place; the map follows at once where the field follows them. */
export function OwnTables({ oxide }: { oxide: Oxide }) {
  const of = plan.value;
  const one = planField.value;
  if (!of || !one) return null;
  const id = one.nutrients?.[oxide]?.guide ?? one.guide;
  const shown = (of.ownGuides ?? []).filter((guide) => guide.id === id);
  const all = shown.length > 0 ? shown : (of.ownGuides ?? []).slice(0, 1);
  return (
    <>
      {all.flatMap((guide) =>
        placesOf(guide, oxide).map((place) => (
          <OwnTable
            key={`${guide.id} ${place.list} ${place.index}`}
            guide={guide}
            place={place}
            isUsed={guide.id === id}
            oxide={oxide}
          />
        )),
      )}
    </>
  );
}

function placesOf(guide: PlanOwnGuide, oxide: Oxide): OwnPlace[] {
  const test = elementOf(oxide);
  const found = (list: "tables" | "lineTables") =>
    (guide[list] ?? []).flatMap((table, index): OwnPlace[] =>
      table.test === test ? [{ guide: guide.id, list, index }] : [],
    );
  return [...found("tables"), ...found("lineTables")];
}

interface OwnTableProps {
  readonly guide: PlanOwnGuide;
  readonly place: OwnPlace;
  readonly isUsed: boolean;
  readonly oxide: Oxide;
}

function OwnTable({ guide, place, isUsed, oxide }: OwnTableProps) {
  const [doubt, setDoubt] = useState("");
  const rows = ownRows(guide, place);
  const { crop, method } = guide[place.list]![place.index]!;
  const isClasses = place.list === "tables";
  const takeRows = (changed: readonly OwnRow[], what: string): Refusal => {
    const wrong = ownRowsDoubt(changed);
    if (wrong === "") edit(withOwnRows(plan.peek()!, place, changed, what));
    return wrong === "" ? null : wrong;
  };
  const take = (changed: readonly OwnRow[], what: string): boolean => {
    const wrong = takeRows(changed, what);
    setDoubt(wrong ?? "");
    return wrong === null;
  };
  const swap = (k: number, key: "ppm" | "lbPerAc", text: string, unit: string): Refusal =>
    takeRows(
      rows.map((old, i) => (i === k ? { ...old, [key]: typedNumber(text) } : old)),
      `row ${k + 1}, ${text} ${unit}`,
    );
  return (
    <details class="small own" open={isUsed || rows.length === 1}>
      <summary>
        {guide.name}, {crop} {oxideText(oxide)}
      </summary>
      <p class="second">
        {method}, elemental ppm.{" "}
        {isClasses
          ? "A test on a limit is in the class above it."
          : "Straight lines between the rows, level outside."}
        {isUsed ? "" : " No rate follows it until it is chosen as the guide."}
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">{isClasses ? "test below, ppm" : "test, ppm"}</th>
            <th scope="col" class="figure">
              lb {oxideText(oxide)}/ac
            </th>
            <th scope="col">
              <span class="unseen">Take out</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row, k) => (
            <tr key={k}>
              <td>
                {row.ppm === null ? (
                  rows.length > 1 ? (
                    "and over"
                  ) : (
                    "any"
                  )
                ) : (
                  <DraftInput
                    type="number"
                    aria-label={`Test of row ${k + 1}, ppm`}
                    min={0}
                    step={1}
                    value={String(row.ppm)}
                    disabled={readOnly.value}
                    onTake={(text) => swap(k, "ppm", text, "ppm")}
                  />
                )}
              </td>
              <td class="figure">
                <DraftInput
                  type="number"
                  aria-label={`Rate of row ${k + 1}, lb of oxide an acre`}
                  min={0}
                  step={1}
                  value={String(row.lbPerAc)}
                  disabled={readOnly.value}
                  onTake={(text) => swap(k, "lbPerAc", text, "lb/ac")}
                />
              </td>
              <td>
                {row.ppm !== null && rows.length > 1 && (
                  <button
                    type="button"
                    class="link"
                    aria-label={`Take out row ${k + 1}`}
                    disabled={readOnly.value}
                    onClick={() =>
                      take(
                        rows.filter((_, i) => i !== k),
                        `row ${k + 1} out`,
                      )
                    }
                  >
                    Take out
                  </button>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <NewRow isClasses={isClasses} add={(row) => take(sorted([...rows, row]), `${row.ppm} ppm added`)} />
      {doubt !== "" && (
        <p class="flag-text" role="alert">
          {doubt}
        </p>
      )}
    </details>
  );
}

const sorted = (rows: readonly OwnRow[]): OwnRow[] =>
  rows.toSorted((a, b) => (a.ppm ?? Number.POSITIVE_INFINITY) - (b.ppm ?? Number.POSITIVE_INFINITY));

/** Both figures typed, then the row goes where its test belongs. */
function NewRow({ isClasses, add }: { isClasses: boolean; add: (row: OwnRow) => boolean }) {
  const [ppm, setPpm] = useState("");
  const [lb, setLb] = useState("");
  const [test, rate] = [typedNumber(ppm), typedNumber(lb)];
  const isWhole = !Number.isNaN(test) && !Number.isNaN(rate);
  return (
    <form
      class="pair reason"
      onSubmit={(event) => {
        event.preventDefault();
        if (!isWhole || !add({ ppm: test, lbPerAc: rate })) return;
        setPpm("");
        setLb("");
      }}
    >
      <input
        type="text"
        inputMode="decimal"
        aria-label={isClasses ? "New class: test below, ppm" : "New row: test, ppm"}
        placeholder="ppm"
        value={ppm}
        disabled={readOnly.value}
        onInput={(event) => setPpm(event.currentTarget.value)}
      />
      <input
        type="text"
        inputMode="decimal"
        aria-label="Its rate, lb of oxide an acre"
        placeholder="lb/ac"
        value={lb}
        disabled={readOnly.value}
        onInput={(event) => setLb(event.currentTarget.value)}
      />
      <button type="submit" disabled={!isWhole || readOnly.value}>
        Add this row
      </button>
    </form>
  );
}
