import { InputError, type Notice, type Question } from "../../errors/index.ts";
import { type AppliedLog, hasLogColumns, type Layer } from "../../formats/index.ts";
import { counted } from "../../units/index.ts";
import { logsAsOne } from "./logs-as-one.ts";
import type { InputItem, InputRole } from "./read-items.ts";

/** Answer to the question `layer` by which all layers of a file that are logs are read as one log. */
const ALL_LAYERS = "all";

const logLayers = (items: readonly InputItem[]): readonly InputItem[] =>
  items.filter(
    ({ kind, layer }) =>
      (kind === "points" || kind === "table") &&
      layer !== null &&
      hasLogColumns(layer.columns.map(({ name }) => name)),
  );

const namesOf = (items: readonly InputItem[]): string => items.map(({ name }) => name).join(", ");

/** The layers that are read together, as somebody answered: days or parts of one log; null where one is named, or there are not several. */
export function layersTogether(
  fitting: readonly InputItem[],
  answer: string | undefined,
): readonly InputItem[] | null {
  if (answer !== ALL_LAYERS || fitting.some(({ name }) => name === ALL_LAYERS)) return null;
  const logs = logLayers(fitting);
  return logs.length > 1 ? logs : null;
}

/** What a table lacks to be a log of work done, with its own headings; null where its headings were understood. */
function notALog({ layer, samples }: InputItem): string | null {
  if (layer !== null || samples === null) return null;
  const has = samples.headings.filter((heading) => heading !== "").join(", ") || "none";
  return `a table without target and applied rates is no log of work done (its headings: ${has}; looked for are such as Target Rate (lb/ac), Applied Rate (lb/ac), Width (ft))`;
}

/** Error `no-applied-rate`, with the headings of each, where none of a file's tables can be read as a log of work done; else null. */
export function noLog(items: readonly InputItem[]): InputError | null {
  const lacks = items.flatMap((item) => {
    const lack = notALog(item);
    return lack === null ? [] : [`${item.name}: ${lack}`];
  });
  return lacks.length === 0 || lacks.length < items.length
    ? null
    : new InputError("no-applied-rate", lacks.join("; "), "Choose the log of the work done.");
}

/** What there is of each of a file's layers that fit a role, for the question which of them to read. */
export const layersSeen = (fitting: readonly InputItem[], as: InputRole): string =>
  fitting
    .map((item) => {
      const { kind, layer, samples } = item;
      const count = layer?.features.length ?? samples?.rows.length ?? 0;
      const there = kind === "table" ? counted(count, "row") : `${count} ${kind}`;
      return `${item.name}: ${(as === "applied" ? notALog(item) : null) ?? there}`;
    })
    .join("; ");

/** Which of a file's layers is the one of a role; of logs, where several can be, all of them is offered too. */
export function layerQuestion(
  name: string,
  fitting: readonly InputItem[],
  as: InputRole,
  seen: string,
): Question {
  const choices = fitting.map((item) => item.name);
  const isAllThere = as === "applied" && layersTogether(fitting, ALL_LAYERS) !== null;
  if (!isAllThere) return { key: "layer", text: `Which layer of ${name} is the ${as}?`, choices, seen };
  const text = `Which layer of ${name} is the log of the work done, or are all of them days or parts of one product's log? A layer that is not read does not count.`;
  return { key: "layer", text, choices: [...choices, ALL_LAYERS], seen };
}

/** What a file holds besides the layers taken; other logs with how to have them counted. */
export function layersNotTaken(
  name: string,
  taken: readonly InputItem[],
  items: readonly InputItem[],
  as: InputRole | undefined,
): Notice[] {
  const left = items.filter((item) => !taken.includes(item));
  const logs = as === "applied" ? logLayers(left) : [];
  const others = left.filter((item) => !logs.includes(item));
  const notices: Notice[] = [];
  if (logs.length > 0) {
    const [are, them, they] = logs.length === 1 ? ["is", "it", "it is"] : ["are", "them", "they are"];
    const message = `${namesOf(taken)} taken; ${namesOf(logs)} in the same file ${are} not read and no pound of ${them} counts: where ${they} of the same product, answer layer=${ALL_LAYERS}, or unzip the file and give each log with --log`;
    notices.push({ code: "log-layers-not-read", message, where: name });
  }
  if (taken.length > 1)
    notices.push({
      code: "layers-together",
      message: `${namesOf(taken)} read together as one log`,
      where: name,
    });
  if (others.length > 0) {
    const there = others.map((item) => `${item.name} (${item.kind})`).join(", ");
    const message = `${namesOf(taken)} taken; also there: ${there}`;
    notices.push({ code: "others-there", message, where: name });
  }
  return notices;
}

/** What several layers hold as one log and one layer; no log while one of them has none. */
export function logOfLayers(read: readonly { readonly layer: Layer; readonly log: AppliedLog | null }[]): {
  readonly layer: Layer;
  readonly log: AppliedLog | null;
} {
  const logs = read.flatMap(({ log }) => log ?? []);
  const layers = read.map(({ layer }) => layer);
  const layer: Layer = {
    ...layers[0]!,
    name: layers.map((one) => one.name).join(", "),
    features: layers.flatMap((one) => one.features),
    skipped: layers.flatMap((one) => one.skipped),
  };
  if (logs.length < read.length) return { layer, log: null };
  const products = [...new Set(logs.flatMap((log) => log.products))];
  return { layer, log: { ...logsAsOne(logs), products } };
}
