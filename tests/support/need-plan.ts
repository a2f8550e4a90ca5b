import { sha256Hex } from "../../src/formats/index.ts";
import {
  type FieldResult,
  type Plan,
  type PlanField,
  type PlanSource,
  type RunOptions,
  type RunResult,
  run,
} from "../../src/plan/index.ts";
import { acres } from "../../src/units/index.ts";
import { smallFarmFiles, smallPlan, sourceOf } from "./small-farm.ts";

/** A change of the small farm's plan: of the field, of the plan, and files added or put in place of its own. */
export interface Change {
  readonly field?: Partial<PlanField>;
  readonly plan?: Partial<Plan>;
  readonly files?: Readonly<Record<string, string>>;
  /** Roles of files added. */
  readonly as?: Readonly<Record<string, PlanSource["as"]>>;
  /** What the plan says of a source of samples. */
  readonly sampling?: PlanSource["sampling"];
}

const utf8 = new TextEncoder();

/** The small farm (20 ac, 9 samples, Mehlich-3, soybean 55 bu) with a change; maps by inverse distance, to be quick. */
export function needPlan(change: Change = {}): { plan: Plan; files: Map<string, Uint8Array> } {
  const files = new Map(smallFarmFiles());
  for (const [path, text] of Object.entries(change.files ?? {})) files.set(path, utf8.encode(text));
  const base = smallPlan();
  const hash = (path: string) => sha256Hex(files.get(path)!);
  const sources: PlanSource[] = base.sources.map((source) => ({
    ...source,
    sha256: hash(source.path),
    ...(source.as === "samples" && change.sampling ? { sampling: change.sampling } : {}),
  }));
  for (const [path, as] of Object.entries(change.as ?? {}))
    sources.push({ path, as, sha256: hash(path), answers: {} });
  const plan: Plan = {
    ...base,
    maps: { cellM: 10, method: "inverse-distance" },
    ...change.plan,
    sources,
    fields: base.fields.map((field) => ({ ...field, ...change.field })),
  };
  return { plan, files };
}

export async function worked(change: Change = {}, options: RunOptions = {}): Promise<RunResult> {
  const { plan, files } = needPlan(change);
  return run(plan, sourceOf(files), { files: "later", ...options });
}

export async function workedField(change: Change = {}, options: RunOptions = {}): Promise<FieldResult> {
  return (await worked(change, options)).fields[0]!;
}

/** What a rejected promise threw. */
export async function thrown<T extends Error>(
  work: Promise<unknown>,
  kind: new (...a: never[]) => T,
): Promise<T> {
  try {
    await work;
  } catch (error) {
    if (error instanceof kind) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
}

export const codes = (notices: readonly { readonly code: string }[]): string[] =>
  notices.map((notice) => notice.code);

/** Cells with ground. */
export const inside = (field: FieldResult): number[] =>
  [...field.cells.areaM2.keys()].filter((cell) => field.cells.areaM2[cell]! > 0);

/** Pounds over the field of lb/ac over its cells. */
export const pounds = (field: FieldResult, lbPerAc: (cell: number) => number): number =>
  inside(field).reduce((total, cell) => total + lbPerAc(cell) * acres(field.cells.areaM2[cell]!), 0);

/** A file of polygons: rectangles in degrees, each with its properties. */
export const rectangles = (
  list: readonly (readonly [
    west: number,
    south: number,
    east: number,
    north: number,
    Record<string, unknown>,
  ])[],
): string =>
  JSON.stringify({
    type: "FeatureCollection",
    features: list.map(([west, south, east, north, properties]) => ({
      type: "Feature",
      properties,
      geometry: {
        type: "Polygon",
        coordinates: [
          [
            [west, south],
            [east, south],
            [east, north],
            [west, north],
            [west, south],
          ],
        ],
      },
    })),
  });

/** strip + broadcast + credits + shortage - excess - need - rounding, lb: 0 when it closes. */
export const openBalance = (field: FieldResult): number =>
  Math.max(
    ...field.balances.map(({ needLb, stripLb, broadcastLb, creditsLb, shortageLb, excessLb, roundingLb }) =>
      Math.abs(stripLb + broadcastLb + creditsLb + shortageLb - excessLb - needLb - roundingLb),
    ),
  );

/** West and east of the small farm's field, which lies between -93.5 and -93.4965 degrees east, 42 and 42.0027 north. */
export const west = [-93.501, 41.999, -93.498, 42.004] as const;
export const east = [-93.498, 41.999, -93.496, 42.004] as const;
