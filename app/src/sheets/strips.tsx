import { useState } from "preact/hooks";
import {
  counted,
  type DriveFigures,
  headingText,
  laidProducts,
  lengthText,
  numberText,
  RATE_COLUMN,
} from "#core";
import type { MapFile } from "../engine/protocol.ts";
import { Bench, BigNumber } from "../parts/bench.tsx";
import { Choices } from "../parts/choices.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { Fold } from "../parts/fold.tsx";
import { Lines } from "../parts/lines.tsx";
import { Notices } from "../parts/notices.tsx";
import { area, feet, mass, rate, words } from "../state/figures.ts";
import { doubts, isKept } from "../state/how-far.ts";
import { planField } from "../state/look.ts";
import { plan, readOnly } from "../state/opened.ts";
import { field, isBehind, refusal } from "../state/results.ts";
import { goTo, here } from "../state/route.ts";
import { settings } from "../state/settings.ts";
import { downloadMaps, takenWords } from "../state/take-maps.ts";
import { Drive } from "./strips-drive.tsx";
import { KeptOff } from "./strips-kept-off.tsx";
import { PassOrder } from "./strips-order.tsx";

/** Numbered passes and segments, and exactly what will be written. */
export function StripsSheet() {
  const of = plan.value;
  const shown = field.value;
  const one = planField.value;
  const [isBusy, setBusy] = useState(false);
  if (!of || !one) return null;
  const products = laidProducts(of);
  const part = products.includes(here.value.part) ? here.value.part : products[0]!;
  const take = async () => {
    setBusy(true);
    await downloadMaps();
    setBusy(false);
  };
  const passes = shown?.driving.passes ?? 0;
  return (
    <Bench
      title="Strips and files"
      aside={
        products.length > 1 && (
          <Choices
            about="Product on the plat"
            value={part}
            options={products.map((product) => [product, product] as const)}
            onChoose={(chosen) => goTo({ ...here.value, sheet: "strips", part: chosen })}
          />
        )
      }
      actions={
        <button
          type="button"
          class="action"
          disabled={isBusy || readOnly.value || !shown || refusal.value !== null}
          onClick={() => void take()}
        >
          {isBusy ? "Writing and reading back" : zipWords(of.fields.length)}
        </button>
      }
    >
      <Rig />
      <BigNumber
        value={passes === 0 ? "–" : String(passes)}
        words={`passes, ${area(shown?.areaAc ?? Number.NaN)} ${words().area}; ${sideBySide(shown?.driving.overlap)}`}
      />
      {!isKept(of, one.id) && (
        <p class="small second">
          The split is not kept yet: these are the files of the split as the plan has it now.
        </p>
      )}
      <Drive of={of} one={one} />
      <PassOrder product={part} />
      <KeptOff of={of} />
      {shown && <FileTable maps={shown.maps} written={shown.written && !isBehind.value} />}
      {takenWords.value !== "" && (
        <p class="small" role="status">
          {takenWords.value}
        </p>
      )}
      <Notices notices={doubts.value.strips ?? []} />
    </Bench>
  );
}

/** The zip holds the whole farm's maps, not this field's alone. */
const zipWords = (fields: number): string =>
  fields === 1 ? "Download zip" : `Download zip of the farm, ${fields} fields`;

/** Neighbours meet; what is covered twice, or lies beyond the edge, does so where the rig starts and stops and at the outer passes. */
function sideBySide(overlap: DriveFigures["overlap"] | undefined): string {
  const twice =
    overlap && overlap.by !== "unknown" && overlap.overlapAc >= 0.05
      ? `, ${area(overlap.overlapAc)} ${words().area} covered twice or beyond the edge, where they start and stop and at the outer ones`
      : "";
  return `no gap or overlap side by side${twice}`;
}

function Rig() {
  const { rig, spreader } = plan.value!;
  const shown = field.value;
  const ground = shown?.ground;
  const { system } = settings.value;
  const lines = [
    [
      "Implement",
      `${rig.rows} rows × ${rig.rowSpacingIn} in. = ${feet((rig.rows * rig.rowSpacingIn) / 12)} ${words().length}`,
    ],
    [
      "Heading of line A-B",
      ground
        ? `${headingText(ground.headingDeg)}°${shown && shown.shiftM !== 0 ? `, moved half a row ${shown.shiftM > 0 ? "right" : "left"}` : ""}`
        : "–",
    ],
    [
      "Rate can change every",
      `${lengthText(shown?.driving.stretches?.shortestM ?? rig.segmentM, system)} ${words().length}, steps of ${rate(rig.rateStepLbPerAc)} ${words().rate}`,
    ],
    [
      "Spreader",
      `cells of ${feet(spreader.widthFt)} × ${feet(spreader.lengthFt)} ${words().length}, steps of ${rate(spreader.rateStepLbPerAc)} ${words().rate}`,
    ],
  ] as const;
  return <Lines of={lines} />;
}

function FileTable({ maps, written }: { maps: readonly MapFile[]; written: boolean }) {
  const bytes = maps.flatMap((map) => map.files).reduce((sum, [, size]) => sum + size, 0);
  const parts = maps.reduce((sum, map) => sum + map.files.length, 0);
  return (
    <>
      <table>
        <thead>
          <tr>
            <th scope="col">file</th>
            <FigureHeads of={["pieces", "lb in file", "read back"]} />
          </tr>
        </thead>
        <tbody>
          {maps.map((map) => (
            <tr key={map.stem}>
              <th scope="row">
                {map.stem}
                <span class="under">
                  {map.pass === "strip" ? `strip, bin ${map.bin}` : "broadcast, spreader"}, {map.product}
                </span>
              </th>
              <td class="figure">{numberText(map.polygons, 0)}</td>
              <td class="figure" data-file={map.stem}>
                {numberText(map.totalLb, 0)}
              </td>
              <td class="figure">{written ? "same ✓" : "not yet"}</td>
            </tr>
          ))}
          <tr class="sum">
            <th scope="row">
              {written
                ? `${maps.length} maps, ${parts} parts, ${numberText(bytes / 1_000, 0)} kB`
                : `${maps.length} maps`}
            </th>
            <td class="figure" />
            <td class="figure">
              {numberText(
                maps.reduce((sum, map) => sum + map.totalLb, 0),
                0,
              )}
            </td>
            <td class="figure" />
          </tr>
        </tbody>
      </table>
      <p class="small second">
        Column <b>{RATE_COLUMN}</b>: lb of the product per acre of the whole field. Files are always in lb/ac.
        Outside the field: 0. Position lost: 0.
      </p>
      <Fold class="small" title="Rates after stepping">
        {() => (
          <>
            {maps.map((map) => (
              <p key={map.stem}>
                <b>{map.stem}</b>: {map.rates.length} rates.{" "}
                {map.rates
                  .map(([value, pieces]) => `${value} lb/ac on ${counted(pieces, "piece")}`)
                  .join("; ")}
                .
              </p>
            ))}
          </>
        )}
      </Fold>
      <Fold class="small" title="Files read back">
        {() => (
          <p>
            {written
              ? `Every file was read back by other code: same records, same rates, same amounts; the pieces tile the field without gap or overlap. ${mass(maps.reduce((sum, map) => sum + map.totalLb, 0))} ${words().mass} in all.`
              : "Not yet: the files are written and read back as soon as the figures rest."}
          </p>
        )}
      </Fold>
    </>
  );
}
