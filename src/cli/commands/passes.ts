import { InputError, type Notice, QuestionError } from "../../errors/index.ts";
import { fieldFrame, frameCentre, type MultiPolygon, mapPoints, type Point } from "../../geo/index.ts";
import { LEAST_ROW_SPACING_IN, readInput } from "../../plan/index.ts";
import {
  ASSUMED_TURN_RADIUS_M,
  guidanceAt,
  type LaidStrips,
  layoutFigures,
  layoutNotices,
  stripLayout,
} from "../../strips/index.ts";
import { acres, counted, metresFromInches, numberText } from "../../units/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { gatherInput } from "../gather-input.ts";
import { neededNumber, numberOption } from "../number-option.ts";
import { sayNotices } from "../talk.ts";

/** `passes FIELD`: how a rig would drive a field, in figures. */
export const command: Command = {
  operands: { shown: "FIELD", least: 1, most: 1 },
  about: [
    "Lays strip passes over a field and says what they come to: acres of field, headland and interior,",
    "passes and their numbers, runs, segments, metres of centreline, of rows and of turns. FIELD holds",
    "the boundary and may hold the guidance line too: two points for straight passes, more for a curve;",
    "or give it by --guidance or --heading. Pass 0 holds the guidance line, numbers rise to its right. A",
    "pass counts when over 1 m2 of it is interior. A boundary that crosses itself is repaired where that",
    "changes nothing, else asked about (repair-boundary).",
  ].join("\n"),
  options: ["guidance", "heading", "rows", "row-spacing-in", "headland-passes", "segment-m", "answer"],
  run: passes,
};

const DEFAULT_SEGMENT_M = 15;

async function passes(call: Call): Promise<Outcome> {
  const rows = neededNumber(call, "passes", "rows", { least: 1, whole: true });
  const rowSpacingM = metresFromInches(
    neededNumber(call, "passes", "row-spacing-in", { least: LEAST_ROW_SPACING_IN }),
  );
  const headlandPasses = numberOption(call, "headland-passes", { whole: true }) ?? 0;
  const segmentM = numberOption(call, "segment-m", { above: 0 }) ?? DEFAULT_SEGMENT_M;
  const { boundary, line, notices } = await readField(call);
  const frame = fieldFrame(...frameCentre(boundary));
  const plane = mapPoints(boundary, frame.toPlane);
  const guidance =
    line?.map(frame.toPlane) ??
    guidanceAt(plane, neededNumber(call, "passes", "heading", { least: Number.NEGATIVE_INFINITY }));
  const layout = { boundary: plane, guidance, widthM: rows * rowSpacingM, segmentM, headlandPasses };
  const laid = stripLayout(layout);
  const all = [...notices, ...layoutNotices(laid, layout)];
  sayNotices(call.talk, all);
  const figures = {
    areaAc: acres(laid.boundaryM2),
    headlandAc: acres(laid.headlandM2),
    interiorAc: acres(laid.interiorM2),
    ...layoutFigures(laid, { guidance, rows, rowSpacingM, segmentM }),
    turnRadiusM: ASSUMED_TURN_RADIUS_M,
    notices: all,
  };
  return { exit: exit.done, data: inWords(figures, laid), json: figures };
}

interface ReadField {
  /** Longitude and latitude. */
  readonly boundary: MultiPolygon;
  /** Undefined when a heading takes its place. */
  readonly line: readonly Point[] | undefined;
  readonly notices: readonly Notice[];
}

async function readField(call: Call): Promise<ReadField> {
  const { guidance, heading, answer } = call.options;
  const operand = call.operands[0]!;
  if (guidance !== undefined && heading !== undefined) {
    throw new InputError(
      "guidance-twice",
      `Both --guidance ${guidance} and --heading ${heading} were given.`,
      "Give one of them.",
    );
  }
  const field = await gatherInput(operand, call.readStandardInput);
  const answers = Object.fromEntries(answer);
  const read = readInput(field.name, field.files, { as: "boundary", answers });
  if (read.questions.length > 0) throw new QuestionError(read.questions, read.notices);
  const boundary = shapes(read.taken, "polygon").flatMap((geometry) =>
    geometry.kind === "polygon" ? geometry.polygons : [],
  );
  const notices = read.notices.filter(({ code }) => code !== "others-there");
  if (heading !== undefined) return { boundary, line: undefined, notices };
  const source = guidance === undefined ? field : await gatherInput(guidance, call.readStandardInput);
  const lines = readLines(source, answers, guidance === undefined);
  return { boundary, line: lines.line, notices: [...notices, ...lines.notices] };
}

function readLines(
  source: Awaited<ReturnType<typeof gatherInput>>,
  answers: Readonly<Record<string, string>>,
  isField: boolean,
): { line: readonly Point[]; notices: readonly Notice[] } {
  const missing = (found: string): InputError =>
    new InputError(
      "guidance-missing",
      `${source.name}: ${found}`,
      "Give one guidance line in --guidance FILE or beside the boundary, or a heading in degrees with --heading.",
    );
  const hasLines = readInput(source.name, source.files, { answers }).items.some(
    ({ kind }) => kind === "lines",
  );
  if (isField && !hasLines) throw missing("no guidance line beside the boundary");
  const read = readInput(source.name, source.files, { as: "guidance", answers });
  if (read.questions.length > 0) throw new QuestionError(read.questions, read.notices);
  const parts = shapes(read.taken, "line").flatMap((geometry) =>
    geometry.kind === "line" ? geometry.parts : [],
  );
  const [line, ...more] = parts;
  if (line === undefined || more.length > 0) throw missing(`${parts.length} guidance lines`);
  return { line, notices: isField ? [] : read.notices.filter(({ code }) => code !== "others-there") };
}

function shapes(taken: ReturnType<typeof readInput>["taken"], kind: "polygon" | "line") {
  const layer = taken !== null && "layer" in taken ? taken.layer : null;
  return (layer?.features ?? []).flatMap(({ geometry }) => (geometry?.kind === kind ? [geometry] : []));
}

type Figures = ReturnType<typeof layoutFigures> & {
  readonly areaAc: number;
  readonly headlandAc: number;
  readonly interiorAc: number;
};

function inWords(figures: Figures, { segments }: LaidStrips): string {
  const headland = segments.filter(({ kind }) => kind === "headland").length;
  return [
    `field ${figures.areaAc.toFixed(2)} ac = headland ${figures.headlandAc.toFixed(2)} + interior ${figures.interiorAc.toFixed(2)} ac`,
    `${counted(figures.passes, "pass", "passes")} (${figures.firstPass ?? "-"} to ${figures.lastPass ?? "-"}), ${counted(figures.runs, "run")}`,
    `${counted(figures.segments, "segment")}, ${numberText(figures.wholeSegments, 0)} whole; ${counted(headland, "piece")} of headland`,
    `centrelines ${figures.centrelineM.toFixed(0)} m, rows ${figures.rowLengthM.toFixed(0)} m`,
    `turns ${figures.turnM.toFixed(0)} m and ${figures.moveM.toFixed(0)} m along ends, back and forth, ${ASSUMED_TURN_RADIUS_M} m radius (assumed)`,
  ].join("\n");
}
