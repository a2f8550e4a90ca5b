import type { ReadOut, ReadOutRow } from "#core";
import { appliedRows } from "../state/applied-rows.ts";
import { comparedWith } from "../state/map-before.ts";
import { isMapless } from "../state/mapless.ts";
import { pointed } from "../state/results.ts";

/** Every layer's value at the place pointed at, with its unit and where the number comes from. */
export function ReadOutBox() {
  const now = pointed.value;
  if (isMapless.value) return null;
  if (!now) {
    return (
      <p class="small second">Point at the field, tap it, or use the arrow keys on it, to read it out.</p>
    );
  }
  const { readOut, pinned } = now;
  const before = comparedWith.value === null ? null : now.before;
  return (
    <section class="box read-out" aria-label="Read-out" aria-live="polite">
      <h2>{readOut ? readOut.title : "Outside the field"}</h2>
      {readOut && appliedRows(readOut.piece).length > 0 && (
        <Group rows={appliedRows(readOut.piece)} was={null} />
      )}
      {readOut &&
        changedFirst(groupsOf(readOut), before).map((group) => (
          <Group key={group[0]!.label} rows={group} was={before?.rows ?? null} />
        ))}
      {readOut && before && isAlike(readOut, before) && <p class="source">before: the same here</p>}
      {pinned && (
        <button type="button" class="link small" onClick={() => (pointed.value = null)}>
          Let the read-out go
        </button>
      )}
    </section>
  );
}

/** Values that come from one place, with it named below them; in full on a long look. */
function Group({ rows, was }: { rows: readonly ReadOutRow[]; was: readonly ReadOutRow[] | null }) {
  const sources = [...new Set(rows.map((row) => row.source))];
  const first = sources[0] ?? "";
  const words = sources.length > 1 ? (first.split(",")[0] ?? "") : first;
  return (
    <>
      <dl>
        {rows.map((row) => (
          <Row
            key={row.label}
            row={row}
            was={was && (was.find(({ label }) => label === row.label) ?? null)}
          />
        ))}
      </dl>
      <p class="source" title={sources.join("; ")}>
        {words}
      </p>
    </>
  );
}

/** A value, and where another stood before that one over it. */
function Row({ row, was }: { readonly row: ReadOutRow; readonly was: ReadOutRow | null }) {
  const { label, value, unit, source } = row;
  return (
    <div class="row" title={source}>
      <dt>{label}</dt>
      <dd>
        {was && was.value !== value && (
          <>
            <span class="was-value">before {was.value}, now</span>{" "}
          </>
        )}
        {value} <span class="unit">{shortUnit(unit, label)}</span>
      </dd>
    </div>
  );
}

/** What differs from before stands on top. */
function changedFirst(groups: ReadOutRow[][], before: ReadOut | null): ReadOutRow[][] {
  if (!before) return groups;
  const isChanged = (rows: readonly ReadOutRow[]): boolean => !isAlike({ rows }, before);
  return [...groups.filter(isChanged), ...groups.filter((group) => !isChanged(group))];
}

const isAlike = (now: Pick<ReadOut, "rows">, before: ReadOut): boolean =>
  now.rows.every(({ label, value }) => value === before.rows.find((one) => one.label === label)?.value);

/** A product or oxide that the label names is not named again in the unit. */
function shortUnit(unit: string, label: string): string {
  const named = /^(\S+) (\S+)\/(\S+)$/.exec(unit);
  return named && label.includes(named[2]!) ? `${named[1]}/${named[3]}` : unit;
}

/** Soil tests, needs, and the rates of each file. */
function groupsOf({ rows }: ReadOut): ReadOutRow[][] {
  const groups = new Map<string, ReadOutRow[]>();
  for (const row of rows) {
    const key = /^soil|^CEC/.test(row.label) ? "soil" : row.label.endsWith("needed") ? "need" : row.source;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups.values()];
}
