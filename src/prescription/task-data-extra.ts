import { MOST_TASK_ZONES, type PlannedField, type PlannedZones, writeTaskData } from "../formats/index.ts";
import { ellipsoidArea } from "../geo/index.ts";
import { sum } from "../numeric/index.ts";
import { acres, KG_PER_LB, MG_PER_M2_PER_LB_PER_AC } from "../units/index.ts";
import { areaShareGrid } from "./area-share-grid.ts";
import type { Extra, ExtraGround } from "./extra.ts";
import { meltTiles } from "./melt-tiles.ts";
import type { Prescription } from "./prescription.ts";

/** What a task says besides rates. */
export interface TaskFrame {
  readonly version: 3 | 4;
  readonly number: number;
  readonly name: string;
  /** Folder of the set. */
  readonly folder: string;
  readonly farm: string;
  readonly field: PlannedField;
  /** The plan's products in bin order; a product keeps its number in every set. */
  readonly products: readonly string[];
  readonly rates: "grid" | "zones";
  /** About so many metres a cell each way. */
  readonly cellM: number;
  /** lb product/ac for start, lost position and outside; the same for each product. */
  readonly always?: { readonly start: number; readonly positionLost: number; readonly outOfField: number };
}

const raw = (lbPerAc: number): number => Math.round(lbPerAc * MG_PER_M2_PER_LB_PER_AC);

/**
 * One planned task with the rates of maps that lie on the same ground and are worked in one go, a rate a product. As a grid
 * by shares of area, or as zones, one a rate (or pair of rates) with its melted polygons; more zones than
 * a task can hold become a grid, and the note says so.
 */
export function taskDataExtra(maps: readonly Prescription[], ground: ExtraGround, frame: TaskFrame): Extra {
  const zones = frame.rates === "zones" ? zonesOf(maps, ground) : null;
  const tooMany = zones !== null && zones.zones.length > MOST_TASK_ZONES;
  const rates = maps.map((map) => map.rateLbPerAc);
  const share = zones === null || tooMany ? areaShareGrid(ground.polygons, rates, frame.cellM) : null;
  const { always, version, field, farm, name, number } = frame;
  const written = writeTaskData({
    version,
    customer: farm,
    farm,
    tasks: [
      {
        number,
        name,
        field,
        products: maps.map(({ product }) => ({ number: frame.products.indexOf(product) + 1, name: product })),
        ...(always
          ? {
              always: {
                start: raw(always.start),
                positionLost: raw(always.positionLost),
                outOfField: raw(always.outOfField),
              },
            }
          : {}),
        rates: share?.grid ?? zones!,
      },
    ],
  });
  const totalLb = maps.map((_, k) =>
    share
      ? poundsOf(sum([...share.coveredM2].map((m2, cell) => m2 * share.grid.mgPerM2[k]![cell]!)))
      : poundsOf(sum(zones!.zones.map((zone) => ellipsoidArea(zone.polygons) * zone.mgPerM2[k]!))),
  );
  const laid = maps.map((_, k) =>
    share
      ? [...share.grid.mgPerM2[k]!].filter((_, cell) => share.coveredM2[cell]! > 0)
      : zones!.zones.map((zone) => zone.mgPerM2[k]!),
  );
  const notes = [
    ...(tooMany ? [`${zones!.zones.length} different rates are more than a task has zones: a grid`] : []),
    share
      ? `cells of about ${frame.cellM} m, each the mean of what lies in it`
      : "rates to a whole mg/m2 (0.0045 lb/ac at most)",
  ];
  return {
    form: version === 4 ? "taskdata-4" : "taskdata-3",
    stems: maps.map((map) => map.stem),
    files: new Map([...written].map(([path, bytes]) => [`${frame.folder}/${path}`, bytes])),
    unit: "mg/m2",
    totalLb,
    changeLb: maps.map((map, k) => totalLb[k]! - map.totalLb),
    leastLbPerAc: laid.map((rates) =>
      lbPerAcOf(rates.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY)),
    ),
    mostLbPerAc: laid.map((rates) => lbPerAcOf(rates.reduce((a, b) => Math.max(a, b), 0))),
    task: name,
    sendsZero:
      share !== null ||
      [always?.start, always?.positionLost, always?.outOfField].some((lbPerAc) => raw(lbPerAc ?? 0) === 0) ||
      laid.some((own) => own.includes(0)),
    shapes: share ? share.grid.columns * share.grid.rows : sum(zones!.zones.map((z) => z.polygons.length)),
    note: notes.join("; "),
  };
}

const lbPerAcOf = (mgPerM2: number): number => mgPerM2 / MG_PER_M2_PER_LB_PER_AC;

const poundsOf = (mg: number): number => mg / 1e6 / KG_PER_LB;

/** The most that a form in whole mg/m2 may be off: half of one on every acre, lb. */
export const taskDataToleranceLb = (areaM2: number): number =>
  (0.5 / MG_PER_M2_PER_LB_PER_AC) * acres(areaM2) * (1 + 1e-4);

/** A zone for each rate, or for each set of rates that occurs together, by rising rates. */
function zonesOf(maps: readonly Prescription[], ground: ExtraGround): PlannedZones {
  const keys = ground.polygons.map((_, k) => maps.map((map) => map.rateLbPerAc[k]!));
  const byText = new Map(keys.map((rates) => [rates.join(" "), rates]));
  const sorted = [...byText.values()].sort((a, b) => {
    const at = a.findIndex((rate, i) => rate !== b[i]);
    return at < 0 ? 0 : a[at]! - b[at]!;
  });
  const number = new Map(sorted.map((rates, k) => [rates.join(" "), k]));
  const classOf = keys.map((rates) => number.get(rates.join(" "))!);
  const melted = meltTiles(ground.polygons, classOf, sorted.length);
  return {
    kind: "zones",
    zones: sorted.map((rates, k) => ({
      name: rates.map((rate) => `${rate} lb/ac`).join(", "),
      mgPerM2: rates.map(raw),
      polygons: melted.filter((one) => one.class === k).map(({ polygon }) => polygon),
    })),
  };
}
