import type { Notice, Question } from "../../errors/index.ts";
import { type FileAnswers, type Layer, sha256Hex } from "../../formats/index.ts";
import type { SampleFile } from "../../soil/index.ts";
import { answersOfFile } from "../document/answers-of-file.ts";
import { type InputItem, readItems, samplesOf } from "./read-items.ts";
import { settleBoundary } from "./settle-shapes.ts";
import { layerOfTasks } from "./task-input.ts";

/** One input file after reading: its shapes, its table of soil samples, or both. */
export interface InputFile {
  readonly path: string;
  readonly sha256: string;
  readonly layers: readonly Layer[];
  readonly table: SampleFile | null;
  /** What stands open about reading the file at all; while there is any, its shapes have no place yet. */
  readonly questions: readonly Question[];
  /** What is open about single shapes: boundaries that cross themselves. The others can be used without an answer. */
  readonly doubts: readonly Question[];
  readonly notices: readonly Notice[];
}

/**
 * Read a file by what is in it; one of another kind is refused by name. Boundaries that cross themselves are repaired
 * where that changes nothing or `repair-boundary` is answered, else named. Answers may be for this file alone. Several layers of one kind: question `layer`.
 */
export function readInputFile(path: string, bytes: Uint8Array, given: FileAnswers = {}): InputFile {
  const answers = answersOfFile(path, given);
  const { items, notices } = readItems(path, new Map([[path, bytes]]), answers);
  const chosen = chooseLayers(path, items, answers);
  const settled = chosen.items.map((item) => settledLayer(item, answers));
  for (const { task } of items) {
    if (task === null) continue;
    for (const kind of ["polygons", "lines"] as const) {
      const layer = layerOfTasks(task, kind);
      if (layer !== null) settled.push({ layer, doubts: [] });
    }
  }
  const tables = items.filter((item) => item.samples !== null || item.roles.includes("samples"));
  return {
    path,
    sha256: sha256Hex(bytes),
    layers: settled.flatMap(({ layer }) => (layer === null ? [] : [layer])),
    table: tables[0] === undefined ? null : samplesOf(tables[0]),
    questions: [...chosen.items.flatMap((item) => item.questions), ...chosen.questions],
    doubts: settled.flatMap((one) => one.doubts),
    notices: [
      ...notices,
      ...items.flatMap((item) => (item.layer === null ? item.notices : [])),
      ...settled.flatMap(({ layer, doubts }) => doubts.map((doubt) => noticeOf(doubt, layer!.path))),
    ],
  };
}

/** Of several layers of polygons, or of lines, the one that is answered. */
function chooseLayers(
  path: string,
  items: readonly InputItem[],
  answers: FileAnswers,
): { items: readonly InputItem[]; questions: readonly Question[] } {
  const questions: Question[] = [];
  const chosen = (["polygons", "lines", "points"] as const).flatMap((kind) => {
    const own = items.filter((item) => item.kind === kind);
    const answered = own.filter((item) => item.name === answers.layer);
    if (own.length < 2 || answered.length === 1) return answered.length === 1 ? answered : own;
    const choices = own.map((item) => item.name);
    if (kind !== "points" && questions.length === 0) {
      const text = `Which layer of ${path} is to be used for its ${kind}?`;
      questions.push({ key: "layer", text, choices, seen: `${path}: ${choices.join(", ")}` });
    }
    return own;
  });
  return { items: chosen, questions };
}

function settledLayer(
  item: InputItem,
  answers: FileAnswers,
): { layer: Layer | null; doubts: readonly Question[] } {
  if (item.layer === null) return { layer: null, doubts: [] };
  if (item.kind !== "polygons" || !item.located) return { layer: item.layer, doubts: [] };
  const { layer, questions } = settleBoundary(item.layer, answers);
  return { layer, doubts: questions };
}

const noticeOf = ({ key, seen, choices }: Question, where: string): Notice => ({
  code: "boundary-crosses",
  message: `${seen}. Redraw it, or answer ${key} (${choices.join(" or ")}).`,
  where,
});
