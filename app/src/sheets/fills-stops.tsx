import { useState } from "preact/hooks";
import {
  type AssumedFigure,
  assumedInWords,
  binWords,
  type FieldFills,
  fillHereInWords,
  numberText,
  scalesInWords,
  UNKNOWN,
} from "#core";
import { NeededLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { WideTable } from "../parts/wide-table.tsx";
import { area, mass, massShown, words } from "../state/figures.ts";
import { plan } from "../state/opened.ts";
import { stands } from "../state/season-state.ts";
import { settings } from "../state/settings.ts";

/** The stops as the operator reads them: what each bin's scale shows, what goes in. */
export function StopsTable({ fills, isOld }: { readonly fills: FieldFills; readonly isOld: boolean }) {
  const about = isOld ? "~" : "";
  if (fills.stops.length === 0) return null;
  return (
    <WideTable label="Stops">
      <table>
        <caption class="small second">
          Stops, {words().mass} on each bin's scale
          {isOld && "; ~ of before: what stands in the way is said above"}
        </caption>
        <thead>
          <tr>
            <th scope="col">stop</th>
            <th scope="col">
              after
              <br />
              pass
            </th>
            {fills.bins.map((bin) => (
              <th key={bin.id} scope="col" class="figure">
                {binWords(bin)}
                <br />
                reads, load
              </th>
            ))}
            <th scope="col" class="figure">
              {words().area}
              <br />
              since
            </th>
            <th scope="col" class="figure">
              waits,
              <br />
              min
            </th>
          </tr>
        </thead>
        <tbody>
          {fills.stops.map((stop) => (
            <tr key={stop.number}>
              <th scope="row">{stop.number}</th>
              <td>
                {stop.passName} ({stop.passesDone})<span class="under">{stop.at}</span>
              </td>
              {fills.bins.map((bin, b) => (
                <td key={bin.id} class="figure">
                  {about}
                  {mass(stop.scaleBeforeLb[b]!)},{" "}
                  <b>
                    {about}
                    {mass(stop.loadLb[b]!)}
                  </b>
                </td>
              ))}
              <td class="figure">
                {about}
                {area(stop.acres)}
              </td>
              <td class="figure">{stop.waitMinutes === null ? UNKNOWN : numberText(stop.waitMinutes, 0)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="second small">After pass: its number, and in brackets how many are done.</p>
      {fills.fillHere && <p class="small">{fillHereInWords(fills.fillHere, fills)}</p>}
    </WideTable>
  );
}

/** Pounds as they were typed: in kilograms back to the tenth of one. */
const typedMass = (lb: number): number => Math.round(10 * massShown(lb)) / 10;

/** Bin reads: type the scale's weight and plan on from there. */
export function StandPart({ field, fills }: { readonly field: string; readonly fills: FieldFills }) {
  const stand = stands.chosen;
  const [passesDone, setDone] = useState<number | undefined>(stand.value?.passesDone);
  const [scales, setScales] = useState<readonly (number | undefined)[]>(stand.value?.scaleLb ?? []);
  const isWhole =
    passesDone !== undefined &&
    passesDone < fills.passes.length &&
    fills.bins.every((_, b) => scales[b] !== undefined);
  return (
    <Fold title="Bin reads">
      {() => (
        <>
          <dl class="lines">
            <NeededLine
              label="Passes done"
              unit={`of ${fills.passes.length}`}
              value={passesDone}
              most={fills.passes.length - 1}
              step={1}
              onTake={(value) => setDone(Math.round(value))}
            />
            {fills.bins.map((bin, b) => (
              <NeededLine
                key={bin.id}
                label={`${binWords(bin)}, scale reads`}
                unit={words().mass}
                value={scales[b] === undefined ? undefined : typedMass(scales[b])}
                onTake={(typed) => {
                  const lb = typed / massShown(1);
                  setScales(fills.bins.map((_, i) => (i === b ? lb : scales[i])));
                }}
              />
            ))}
          </dl>
          {scalesInWords(scales, fills, settings.value.system).map(({ bin, words: text }) => (
            <p class="doubt" key={bin}>
              {binWords(fills.bins[bin]!)}: {text}
            </p>
          ))}
          <p>
            <button
              type="button"
              class="aside"
              disabled={!isWhole}
              onClick={() => {
                stands.put(field, { passesDone: passesDone!, scaleLb: scales.map((lb) => lb ?? 0) });
              }}
            >
              Plan on from here
            </button>{" "}
            {stand.value && (
              <button
                type="button"
                class="aside"
                onClick={() => {
                  stands.put(field, null);
                }}
              >
                Plan the whole field
              </button>
            )}
          </p>
        </>
      )}
    </Fold>
  );
}

/** Figures nobody typed. */
export function AssumedPart({ assumed }: { readonly assumed: readonly AssumedFigure[] }) {
  if (assumed.length === 0) return null;
  return (
    <Fold title="Defaults in use">
      {() => (
        <ul class="small">
          {assumed.map((one) => (
            <li key={one.key}>
              {assumedInWords(one, plan.value!.rig.bins)};{" "}
              {one.status === "unconfirmed" ? "unconfirmed, " : ""}
              {one.source}
            </li>
          ))}
        </ul>
      )}
    </Fold>
  );
}
