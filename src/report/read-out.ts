import { type Point, polygonFinder } from "../geo/index.ts";
import { laidProducts, type Plan, ratesOf, TEST_UNITS, type TestName } from "../plan/index.ts";
import { numberText } from "../units/index.ts";
import { type DrawnField, mapOf, spreaderCellM } from "./drawn-field.ts";
import { type GapId, gapIdsOf, gapRates } from "./gap-rates.ts";
import { testInWords } from "./layers.ts";
import { lineFrame } from "./line-frame.ts";
import { rateText, type UnitSystem, unitWords } from "./numbers.ts";
import { pieceFinder } from "./piece-finder.ts";
import { oxideText } from "./rate-layers.ts";

/** One value at a place: what, how much, in which unit, and where the number comes from. */
export interface ReadOutRow {
  readonly label: string;
  readonly value: string;
  readonly unit: string;
  readonly source: string;
}

/** What is known of one place. */
export interface ReadOut {
  /** `Pass 12, segment 3`. */
  readonly title: string;
  readonly rows: readonly ReadOutRow[];
  /** Places in the field's cells, strip pieces and spreader cells; -1 where there is none. */
  readonly cell: number;
  readonly piece: number;
  readonly swath: number;
}

/**
 * Every layer's value at a place in the field's plane, metres; null outside the field. Built once a result: the
 * function it gives answers while a finger moves.
 */
export function readOutOf(
  plan: Plan,
  field: DrawnField,
  system: UnitSystem = "us",
): (place: Point) => ReadOut | null {
  const frame = lineFrame(field.checked.line);
  const findPiece = polygonFinder(field.passes.pieces.map(({ polygon }) => polygon));
  const findSwath = pieceFinder(field.swaths, frame, ...spreaderCellM(plan));
  const gaps = gapIdsOf(field).map((id) => ({ id, lbPerAc: gapRates(field, id).lbPerAc }));
  return (place) => {
    const cell = cellAt(field, place);
    const piece = findPiece(place);
    const swath = findSwath(place);
    if (cell < 0 || (piece < 0 && swath < 0)) return null;
    const segment = field.passes.pieces[piece];
    return {
      title: segment
        ? `${segment.kind === "headland" ? "Headland pass" : "Pass"} ${numberText(segment.pass, 0)}, segment ${numberText(segment.column, 0)}`
        : "Between the passes",
      rows: [
        ...soilRows(field, cell),
        ...needRows(field, cell, system),
        ...rateRows(plan, field, piece, swath, system),
        ...gaps.flatMap(({ id, lbPerAc }) => gapRow(id, lbPerAc[cell]!, system)),
      ],
      cell,
      piece,
      swath,
    };
  };
}

function cellAt(field: DrawnField, [x, y]: Point): number {
  const { grid, areaM2 } = field.cells;
  const column = Math.floor(x / grid.cellM) - grid.ix0;
  const row = Math.floor(y / grid.cellM) - grid.iy0;
  if (column < 0 || row < 0 || column >= grid.nx || row >= grid.ny) return -1;
  const cell = row * grid.nx + column;
  return areaM2[cell]! > 0 ? cell : -1;
}

function soilRows(field: DrawnField, cell: number): ReadOutRow[] {
  return (["P", "K", "CEC"] as const).flatMap((test: TestName) => {
    const map = field.maps[test];
    if (!map) return [];
    const decimals = test === "CEC" ? 1 : 0;
    const variance = map.variance[cell];
    const give = variance === undefined ? "" : ` ± ${numberText(Math.sqrt(Math.max(0, variance)), decimals)}`;
    return [
      {
        label: test === "CEC" ? "CEC" : `soil ${test}`,
        value: `${numberText(map.estimate[cell]!, decimals)}${give}`,
        unit: TEST_UNITS[test],
        source: `${map.method.split(",")[0]!}, ${testInWords(field, test)}`,
      },
    ];
  });
}

function needRows(field: DrawnField, cell: number, system: UnitSystem): ReadOutRow[] {
  const { mass, area } = unitWords(system);
  return (["P2O5", "K2O"] as const).map((nutrient) => ({
    label: `${oxideText(nutrient)} needed`,
    value: rateText(ratesOf(field.need, nutrient)[cell]!, system),
    unit: `${mass} ${oxideText(nutrient)}/${area}`,
    source: needSource(field, nutrient, cell),
  }));
}

/** What the need at a place was read from: the guide, and each crop with the yield goal it has there. */
function needSource({ need, field, yields }: DrawnField, nutrient: "P2O5" | "K2O", cell: number): string {
  const { rule } = need[nutrient];
  if (rule === null) return need.from === "rates" ? "the adviser's own rates" : "one typed rate";
  const later = (field.alsoFor ?? []).filter(({ nutrients }) => nutrients?.includes(nutrient) ?? true);
  const goals = [
    typeof yields === "number" ? yields : yields[cell]!,
    ...later.map((one) => one.yieldBuPerAc),
  ];
  const crops = rule.crops.map((crop, i) => `${crop} ${numberText(goals[i]!, 0)} bu/ac`);
  return `${rule.guide.id}, ${crops.join(" and ")}`;
}

/** Nothing where the place is even with its need. */
function gapRow(id: GapId, lbPerAc: number, system: UnitSystem): ReadOutRow[] {
  if (!(lbPerAc > 0)) return [];
  const { mass, area } = unitWords(system);
  const [side, nutrient] = id.split("/") as [string, string];
  return [
    {
      label: `${oxideText(nutrient)} ${side}`,
      value: rateText(lbPerAc, system, 1),
      unit: `${mass} ${oxideText(nutrient)}/${area}`,
      source: "need against credits and both passes, before the spreader's steps",
    },
  ];
}

function rateRows(
  plan: Plan,
  field: DrawnField,
  piece: number,
  swath: number,
  system: UnitSystem,
): ReadOutRow[] {
  const { mass, area } = unitWords(system);
  return laidProducts(plan).flatMap((product) =>
    (["strip", "broadcast"] as const).flatMap((pass) => {
      const map = mapOf(field, pass, product);
      const rate = map?.rateLbPerAc[pass === "strip" ? piece : swath];
      if (!map || rate === undefined) return [];
      const file = [...map.files.keys()].find((name) => name.endsWith(".shp"));
      return [
        {
          label: `${product} ${pass === "strip" ? "in the strip" : "broadcast later"}`,
          value: rateText(rate, system),
          unit: `${mass} ${product}/${area}`,
          source: file ?? "not written",
        },
      ];
    }),
  );
}
