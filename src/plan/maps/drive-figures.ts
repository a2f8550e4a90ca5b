import type { Notice } from "../../errors/index.ts";
import { multiPolygonArea } from "../../geo/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import { LEAD_CAUTION, layoutFigures, overlapShare, sectionFigures } from "../../strips/index.ts";
import { acres, metresFromInches } from "../../units/index.ts";
import type { PlanField, PlanRig } from "../document/document-types.ts";
import type { DriveFigures, LaidPasses, Overlap } from "../results/drive-result-types.ts";
import { mphOf, rigDrive } from "../rig/rig-drive.ts";

/** What a field's passes come to before there are rates: counts, lengths, turns, land covered twice or left out. */
export function driveGeometry(rig: PlanRig, passes: LaidPasses): DriveFigures {
  const { shortestStretchM, responseS, leadM, turnRadiusM } = rigDrive(rig);
  const rowSpacingM = metresFromInches(rig.rowSpacingIn);
  const { along, interior } = passes;
  const figures = layoutFigures(
    { ...passes, segments: passes.pieces, interiorM2: multiPolygonArea(interior) },
    { guidance: along, rows: rig.rows, rowSpacingM, segmentM: rig.segmentM },
  );
  return {
    pattern: rig.pattern ?? "back-and-forth",
    headlands: rig.headlands ?? "last",
    headlandPasses: passes.headlandPasses,
    interiorAc: passes.interiorAc,
    headlandAc: passes.headlandAc,
    firstPass: figures.firstPass ?? null,
    lastPass: figures.lastPass ?? null,
    passes: figures.passes,
    runs: passes.runs.length,
    segments: passes.pieces.length,
    centrelineM: figures.centrelineM,
    turnM: figures.turnM,
    moveM: figures.moveM,
    turnRadiusM,
    isTurnRadiusTyped: rig.turnRadiusFt !== undefined,
    stretches:
      shortestStretchM === null
        ? null
        : {
            shortestM: shortestStretchM,
            mph: mphOf(rig),
            responseS,
            isResponseTyped: rig.responseS !== undefined,
            leadM,
          },
    overlap: overlapOf(rig, passes),
    notices: [],
  };
}

/** The same with the pounds that the maps put on what is covered twice or left out, and what is to be said of it. */
export function withPounds(
  rig: PlanRig,
  figures: DriveFigures,
  field: PlanField,
  strip: readonly Prescription[],
): DriveFigures {
  const { overlapAc, skipAc } = figures.overlap;
  const products = strip.map(({ product, meanLbPerAc }) => ({
    product,
    overlapLb: overlapAc * meanLbPerAc,
    skipLb: skipAc * meanLbPerAc,
  }));
  const overlap = { ...figures.overlap, products };
  return { ...figures, overlap, notices: driveNotices(rig, overlap, field) };
}

function overlapOf(rig: PlanRig, passes: LaidPasses): Overlap {
  const { onDelayM, offDelayM } = rigDrive(rig);
  const { along, interior } = passes;
  const typed = rig.overlapPercent === undefined ? undefined : rig.overlapPercent / 100;
  const sections = rig.sections?.count ?? 1;
  const interiorM2 = multiPolygonArea(interior);
  const isKnown = along.length === 2 && interiorM2 > 0;
  const figures = isKnown
    ? sectionFigures({
        interior,
        guidance: along,
        rows: rig.rows,
        rowSpacingM: metresFromInches(rig.rowSpacingIn),
        sections,
        onDelayM,
        offDelayM,
      })
    : { appliedM2: 0, overlapM2: 0, skipM2: 0 };
  const overlapAc = interiorM2 > 0 ? passes.interiorAc * overlapShare(typed, figures, interiorM2) : 0;
  const skipAc = acres(figures.skipM2);
  return {
    by: typed !== undefined ? "typed" : isKnown ? "geometry" : "unknown",
    sections,
    areSectionsTyped: rig.sections !== undefined,
    overlapAc,
    skipAc,
    products: [],
  };
}

/** Overlap is told where the plan says how the rig starts and stops; a lead always. */
function driveNotices(rig: PlanRig, overlap: Overlap, { id, name }: PlanField): Notice[] {
  const notices: Notice[] = [];
  const lb = overlap.products
    .filter(({ overlapLb, skipLb }) => overlapLb + skipLb >= 0.5)
    .map(({ product, overlapLb, skipLb }) => {
      const skip = skipLb >= 0.5 ? `, ${skipLb.toFixed(0)} lb less on the skips` : "";
      return `${product} ${overlapLb.toFixed(0)} lb more${skip}`;
    });
  if (lb.length > 0 && (rig.sections !== undefined || rig.overlapPercent !== undefined)) {
    const how = overlap.by === "typed" ? "as typed" : `by geometry with ${overlap.sections} sections`;
    const skip = overlap.skipAc >= 0.005 ? `, ${overlap.skipAc.toFixed(2)} ac left out` : "";
    const message = `${name}: ${overlap.overlapAc.toFixed(2)} ac covered twice or beyond the edge${skip} (${how}): ${lb.join("; ")}, at the maps' means. Orders count what the files place, so not this.`;
    notices.push({ code: "overlap", message, where: id });
  }
  if (rig.leadS !== undefined) {
    const rest = "What is left for the spreader is worked out by the map as it is written.";
    notices.push({ code: "rate-lead", message: `${LEAD_CAUTION} ${rest}`, where: id });
  }
  return notices;
}
