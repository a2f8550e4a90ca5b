import type { RefObject } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { counted, UNKNOWN } from "#core";
import { askForFiles } from "../open/choose-files.ts";
import { Bench, BigNumber } from "../parts/bench.tsx";
import { Choices } from "../parts/choices.tsx";
import { Flag } from "../parts/sign.tsx";
import { doubtsOf, farmChoice, farmFind, farmList, farmOrder, pickField } from "../state/farm-list.ts";
import { area, farmLines, heavy, words } from "../state/figures.ts";
import { checkedAcres, howFar, howFarWords } from "../state/how-far.ts";
import { plan, readOnly } from "../state/opened.ts";
import { farm } from "../state/results.ts";
import { goTo } from "../state/route.ts";

/** Every field: how far it is, its tons, its doubts. */
export function FarmSheet() {
  const of = plan.value!;
  const choice = of.fields.find(({ id }) => id === farmChoice.value);
  const count = of.fields.length;
  const acres = farm.value?.acres;
  return (
    <Bench
      title={of.name}
      aside={
        <span class="second">
          {acres === undefined ? UNKNOWN : area(acres)} {words().area}, {counted(count, "field")}
        </span>
      }
      actions={
        <>
          <button
            type="button"
            class="action"
            disabled={!choice}
            onClick={() => choice && goTo({ sheet: "soil", field: choice.id, part: "P" })}
          >
            Open {choice?.name ?? "a field"}
          </button>
          <button type="button" class="aside" onClick={askForFiles} disabled={readOnly.value}>
            Add a field
          </button>
        </>
      }
    >
      <BigNumber
        value={area(checkedAcres.value)}
        words={`${words().area} with the split kept and files checked`}
      />
      {farm.value && farm.value.incomplete !== "" && (
        <p class="flag-text">{farm.value.incomplete} worked out.</p>
      )}
      <div class="pair">
        <input
          type="search"
          aria-label="Find a field"
          placeholder="Find a field"
          value={farmFind.value}
          onInput={(event) => {
            farmFind.value = event.currentTarget.value;
          }}
        />
        <Choices
          about="Order of the list"
          value={farmOrder.value}
          options={[
            ["flags", "Flags first"],
            ["work", "Next to run"],
            ["name", "Name"],
          ]}
          onChoose={(order) => {
            farmOrder.value = order;
          }}
        />
      </div>
      <FieldTable />
      {(farm.value?.refused ?? []).map((one) => (
        <div class="doubt" key={one.field}>
          <p>
            <b>{of.fields.find(({ id }) => id === one.field)?.name ?? one.field}.</b> {one.message}{" "}
            {one.remedy}
          </p>
        </div>
      ))}
    </Bench>
  );
}

/** How many rows lie below what the bench shows. */
function useRowsBelow(table: { current: HTMLTableElement | null }, rows: number): number {
  const [below, setBelow] = useState(0);
  useEffect(() => {
    const bench = table.current?.closest(".scroll");
    if (!table.current || !bench) return;
    const count = () => {
      const { bottom } = bench.getBoundingClientRect();
      const all = [...(table.current?.tBodies[0]?.rows ?? [])];
      setBelow(all.filter((row) => row.getBoundingClientRect().top > bottom - 8).length);
    };
    count();
    const watcher = new ResizeObserver(count);
    watcher.observe(bench);
    bench.addEventListener("scroll", count, { passive: true });
    return () => {
      watcher.disconnect();
      bench.removeEventListener("scroll", count);
    };
  }, [rows]);
  return below;
}

function FieldTable() {
  const table = useRef<HTMLTableElement>(null);
  const below = useRowsBelow(table, farmList.value.length);
  return (
    <>
      <Fields table={table} />
      {below > 0 && <p class="more-below small second">{below} more below</p>}
    </>
  );
}

function Fields({ table }: { table: RefObject<HTMLTableElement | null> }) {
  const lines = new Map(farmLines.value.map((line) => [line.id, line]));
  return (
    <table ref={table}>
      <thead>
        <tr>
          <th scope="col">field</th>
          <th scope="col" class="figure">
            {words().area}
          </th>
          <th scope="col">crop</th>
          <th scope="col">how far</th>
          <th scope="col" class="figure">
            {words().heavy}
          </th>
          <th scope="col">
            <span class="unseen">doubts</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {farmList.value.map((one) => {
          const line = lines.get(one.id);
          const far = howFar(one.id);
          return (
            <tr key={one.id} class={one.id === farmChoice.value ? "chosen" : ""}>
              <th scope="row">
                <button
                  type="button"
                  class="link quiet"
                  aria-pressed={one.id === farmChoice.value}
                  onClick={() => pickField(one.id)}
                  onDblClick={() => goTo({ sheet: "soil", field: one.id, part: "P" })}
                >
                  {one.name}
                </button>
              </th>
              <td class="figure">{line ? area(line.areaAc) : UNKNOWN}</td>
              <td>{one.crop}</td>
              <td>
                <Berms steps={far} />
                <span class="unseen">{howFarWords[far]}</span>
              </td>
              <td class="figure">
                {line
                  ? heavy(
                      line.maps.reduce((sum, map) => sum + map.totalLb, 0),
                      1,
                    )
                  : UNKNOWN}
              </td>
              <td>
                <Flag count={doubtsOf(one.id)} />
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** A berm for every step done, then flat ground. */
function Berms({ steps }: { steps: number }) {
  let path = "M0 11";
  for (let k = 0; k < 5; k++) path += k < steps ? "h2l2 -8h5l2 8h2" : "h13";
  return (
    <svg class="berms" viewBox="0 0 66 13" aria-hidden="true">
      <path d={path} fill="none" stroke="var(--ink)" stroke-width="1.3" stroke-linejoin="round" />
    </svg>
  );
}
