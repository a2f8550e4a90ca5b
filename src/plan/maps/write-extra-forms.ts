import type { Notice } from "../../errors/index.ts";
import {
  type Extra,
  type ExtraGround,
  type ExtraWants,
  FALLBACK_MARK,
  fieldCodes,
  type Ground,
  KG_HA_MARK,
  type Prescription,
  readBackExtraFaults,
  writeExtras,
} from "../../prescription/index.ts";
import type { WorkedSegment } from "../../strips/index.ts";
import { squareMetres } from "../../units/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { laidProducts } from "../document/field-products.ts";
import { wantedForms } from "../document/wanted-forms.ts";
import type { ZeroRate } from "../document/zero-rate.ts";
import type { Pieces } from "../results/drive-result-types.ts";
import type { CheckedField } from "../results/result-types.ts";
import { groundOf, isHeadland, zoneNames } from "./map-ground.ts";

/** Of the plain fallback, where the plan's controller says nothing: few enough for old units (common practice). */
const MOST_POLYGONS = 200;
const MOST_VERTICES = 500;

/**
 * The extra forms of one field's maps that lie on the same ground, each read back by other code. A form that does not say
 * what was meant is our bug and ends the run with all that was found.
 */
export async function writeExtraForms(
  plan: Plan,
  field: PlanField,
  checked: CheckedField,
  ground: Pieces,
  maps: readonly Prescription[],
  zeroRate: ZeroRate,
  pause: () => Promise<void> = async () => {},
): Promise<readonly Extra[]> {
  const pass = maps[0]?.pass;
  if (pass === undefined) return [];
  const own = new Map<string, Ground>();
  const lies: ExtraGround = {
    polygons: ground.written,
    zones: zoneNames(ground),
    areaAc: ground.areaAc,
    pieces: ground.pieces.map(blockPlace),
    ofMap: (map) => {
      const known = own.get(map.stem) ?? groundOf(plan, map, ground);
      own.set(map.stem, known);
      return known;
    },
  };
  const { controller } = plan;
  const wants: ExtraWants = {
    forms: wantedForms(plan),
    limits: {
      mostPolygons: controller?.mostPolygons ?? MOST_POLYGONS,
      mostVertices: controller?.mostVertices ?? MOST_VERTICES,
      ...(controller?.mostBytes === undefined ? {} : { mostBytes: controller.mostBytes }),
      ...(zeroRate.does === "small" ? { smallRateLbPerAc: zeroRate.lbPerAc } : {}),
    },
    taskRates: controller?.taskRates ?? "grid",
    always: {
      start: controller?.startLbPerAc ?? 0,
      positionLost: controller?.positionLostLbPerAc ?? 0,
      outOfField: controller?.outOfFieldLbPerAc ?? 0,
    },
    date: plan.date,
  };
  const ids = plan.fields.map((one) => one.id);
  const named = {
    number: ids.indexOf(field.id) + 1,
    name: field.name,
    code: fieldCodes(ids).get(field.id)!,
    farm: plan.name,
    areaM2: squareMetres(checked.areaAc),
    boundary: checked.boundaryLonLat,
    // What is laid in place of a product comes after the plan's own.
    products: [...new Set([...laidProducts(plan), ...maps.map((map) => map.product)])],
  };
  const step = pass === "strip" ? plan.rig.rateStepLbPerAc : plan.spreader.rateStepLbPerAc;
  const extras = writeExtras(maps, lies, named, step, wants);
  const faults: string[] = [];
  for (const extra of extras) {
    await pause();
    const found = await readBackExtraFaults(extra, maps, lies, checked, wants.limits);
    faults.push(...found.map(({ file, what }) => `${extra.form} ${file}: ${what}`));
  }
  if (faults.length > 0)
    throw new Error(`field ${field.id}, ${pass}: read back differently\n${faults.join("\n")}`);
  return extras;
}

/** Pass and column as blocks of pieces are made by: headland passes far from the interior's, each run by itself. */
function blockPlace(piece: Pieces["pieces"][number]): ExtraGround["pieces"][number] {
  const { column, keptOff } = piece;
  const pass = isHeadland(piece) ? 1_000_000 + 16 * ((piece as WorkedSegment).run + 1) : piece.pass;
  return { pass, column, ...(keptOff ? { keptOff } : {}) };
}

/** In what a map is more than the plan says its controller takes, in words; empty where it is not. */
export function beyondController(plan: Plan, map: Prescription, ground: Pieces): string[] {
  const { mostPolygons, mostVertices, mostBytes, holesAllowed } = plan.controller ?? {};
  const limits = [mostPolygons, mostVertices, mostBytes];
  if (limits.every((limit) => limit === undefined) && holesAllowed !== false) return [];
  const { polygons } = groundOf(plan, map, ground);
  const most = polygons.reduce((count, [outer]) => Math.max(count, outer!.length + 1), 0);
  const bytes = [...map.files].find(([name]) => name.endsWith(".shp"))?.[1].length ?? 0;
  const holes = polygons.filter((polygon) => polygon.length > 1).length;
  const over = (what: string, has: number, takes: number | undefined): string[] =>
    takes !== undefined && has > takes ? [`${has} ${what}, the controller takes ${takes}`] : [];
  return [
    ...over("polygons", map.polygons, mostPolygons),
    ...over("vertices in a polygon", most, mostVertices),
    ...over("bytes", bytes, mostBytes),
    ...(holesAllowed === false && holes > 0
      ? [`${holes} polygons with holes, the controller takes none`]
      : []),
  ];
}

/** Holes and ground kept clear that stand at 0 in the plain fallbacks of a controller that must not get a 0. */
export function zeroNotices(field: PlanField, extras: readonly Extra[]): Notice[] {
  return [...holeNotices(field, extras), ...keptClearNotices(field, extras)];
}

const fallbackNames = (extras: readonly Extra[]): string =>
  extras.flatMap((one) => one.stems.map((stem) => `${stem}${FALLBACK_MARK}`)).join(", ");

/** Strip and spreader keep off other ground, so each is told by its own acres. */
function keptClearNotices({ id, name }: PlanField, extras: readonly Extra[]): Notice[] {
  const acresOf = new Set(extras.flatMap((one) => one.keptClearAc ?? []));
  return [...acresOf].map((ac) => ({
    code: "kept-clear-at-zero",
    message: `${name}: ground that is kept clear, ${ac.toFixed(1)} ac, has rate 0 in ${fallbackNames(extras.filter((one) => one.keptClearAc === ac))}, since nothing may be laid there, and this controller must not get a 0: stop the meters by hand before it.`,
    where: id,
  }));
}

function holeNotices({ id, name }: PlanField, extras: readonly Extra[]): Notice[] {
  const holed = extras.filter((one) => one.smallRateLbPerAc !== undefined && one.holesAc !== undefined);
  if (holed.length === 0) return [];
  const message = `${name}: holes of the field, ${holed[0]!.holesAc!.toFixed(1)} ac, have rate 0 in ${fallbackNames(holed)}, since nothing may be laid there, and this controller must not get a 0: stop the meters by hand before a hole.`;
  return [{ code: "holes-at-zero", message, where: id }];
}

/** Where a map is more than the plan says its controller takes. */
export function controllerNotices(plan: Plan, map: Prescription, ground: Pieces): Notice[] {
  const found = beyondController(plan, map, ground);
  if (found.length === 0) return [];
  const isKgHa = plan.controller?.loads?.includes("kg-ha") === true;
  const remedy = isKgHa
    ? "there is no plain fallback in kg/ha: test-load it before the field, or put “fallback”, in lb/ac, in place of “kg-ha” among controller.loads"
    : wantedForms(plan).includes("fallback")
      ? `load its plain fallback ${map.stem}${FALLBACK_MARK} instead`
      : "add “fallback” to the plan's extras for a plain map";
  const message = `${map.stem}${isKgHa ? KG_HA_MARK : ""}: ${found.join("; ")}; ${remedy}.`;
  return [{ code: "controller-limit", message, where: map.field }];
}
