import { InputError } from "../../errors/index.ts";
import { writeCsv } from "../../formats/index.ts";
import {
  type Block,
  type Kriged,
  krigeTargets,
  leaveOneOut,
  mapTargets,
  type Samples,
  type TargetMap,
} from "../../interpolate/index.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { neededText } from "../needed-option.ts";
import { nextTurn } from "../next-turn.ts";
import { numberOption } from "../number-option.ts";
import { modelAsTyped, readModel } from "../read-model.ts";
import { readPlanarSamples, readPlanarTargets } from "../read-planar.ts";
import { sayNotices } from "../talk.ts";

/** `interpolate`: ordinary kriging of a planar table, for whoever wants to check the numbers. */
export const command: Command = {
  operands: { shown: "", least: 0, most: 0 },
  about: [
    "Ordinary kriging of a table in any plane: --samples S.csv --x east --y north --value P, and either",
    "--targets T.csv (columns of the same names) or --leave-one-out. Writes x,y,estimate,variance, or",
    "x,y,observed,estimate,variance, in the order given. With --model the samples are used as they are, for points",
    `unless --block: '{"nugget":n,"structures":[{"type":"spherical|exponential|gaussian|matern",`,
    `"partialSill":s,"range":r,"kappa":k}],"anisotropy":{"angle":deg,"ratio":r}}'. With --auto the model is`,
    "averaged over many and its decisions are told.",
  ].join("\n"),
  options: [
    ...(["samples", "x", "y", "value", "targets", "leave-one-out"] as const),
    ...(["model", "auto", "block", "nearest"] as const),
  ],
  run: interpolate,
};

async function interpolate(call: Call): Promise<Outcome> {
  const { options, talk } = call;
  const needed = (name: "samples" | "x" | "y" | "value"): string => neededText(call, "interpolate", name);
  const columns = { x: needed("x"), y: needed("y"), value: needed("value") };
  const samplesPath = needed("samples");
  const targetsPath = options.targets;
  if ((targetsPath === undefined) === !options["leave-one-out"])
    throw eitherOr("--targets FILE", "--leave-one-out", targetsPath !== undefined);
  if ((options.model === undefined) === !options.auto) throw eitherOr("--model JSON", "--auto", options.auto);
  const nearest = numberOption(call, "nearest", { least: 1, whole: true });
  const block = options.block === undefined ? undefined : readBlock(options.block);
  if (block !== undefined && options["leave-one-out"]) {
    throw new InputError(
      "option-not-taken",
      "--leave-one-out takes no --block",
      "A sample left out is a point; drop one of the two.",
    );
  }
  const typed = options.model === undefined ? undefined : readModel(options.model);
  const given = await readPlanarSamples(samplesPath, columns);
  sayNotices(talk, given.notices);
  const targets = targetsPath === undefined ? undefined : await readPlanarTargets(targetsPath, columns);

  const how = {
    ...(nearest === undefined ? {} : { nearest }),
    ...(block === undefined ? {} : { block }),
    signal: call.signal,
    pause: nextTurn,
    onTargets: (done: number, total: number): void => talk.progress("Target", done, total),
  };
  if (typed !== undefined) {
    const { samples } = given;
    const kriged =
      targets === undefined
        ? leaveOneOut(samples, typed, how)
        : await krigeTargets(samples, typed, targets, how);
    return outcome(samples, targets, kriged, { model: modelAsTyped(typed) });
  }
  const map = await mapTargets(given.samples, targets, { ...how, test: columns.value });
  tell(call, map);
  const { choice, decisions, notices, predictiveFactor } = map;
  const told = {
    model: modelAsTyped(choice.model),
    source: choice.source,
    predictiveFactor,
    decisions,
    notices,
  };
  return outcome(map.samples, targets, map.kriged, told);
}

function tell({ talk }: Call, { choice, decisions, notices }: TargetMap): void {
  talk.say(`Model: ${JSON.stringify(modelAsTyped(choice.model))}`);
  for (const { step, sentence } of decisions) talk.say(`${step}. ${sentence}`);
  for (const { message, where } of notices) talk.say(`Notice: ${where}: ${message}`);
}

function outcome(
  samples: Samples,
  targets: { readonly x: Float64Array; readonly y: Float64Array } | undefined,
  { estimate, variance }: Kriged,
  told: Readonly<Record<string, unknown>>,
): Outcome {
  const known = (value: number): number | null => (Number.isFinite(value) ? value : null);
  const places = targets ?? samples;
  const observed = (i: number): number[] => (targets === undefined ? [samples.value[i]!] : []);
  const columns = ["x", "y", ...(targets === undefined ? ["observed"] : []), "estimate", "variance"];
  const rows = Array.from(estimate, (e, i) => [
    places.x[i]!,
    places.y[i]!,
    ...observed(i),
    known(e),
    known(variance[i]!),
  ]);
  return { exit: exit.done, data: writeCsv(columns, rows), json: { ...told, columns, rows } };
}

function eitherOr(one: string, other: string, hasBoth: boolean): InputError {
  const found = hasBoth ? "both were given" : "neither was given";
  return new InputError(
    "missing-option",
    `interpolate takes either ${one} or ${other}; ${found}`,
    hasBoth ? `Leave one of ${one} and ${other} out.` : `Give ${one} or ${other}.`,
  );
}

/** `40x40`: sides along x and y in the unit of the coordinates. */
function readBlock(typed: string): Block {
  const [, width, height] = /^(\d+\.?\d*|\.\d+)x(\d+\.?\d*|\.\d+)$/i.exec(typed) ?? [];
  const block = { widthM: Number(width), heightM: Number(height) };
  if (block.widthM > 0 && block.heightM > 0) return block;
  throw new InputError(
    "not-a-block",
    `--block ${typed}: not two lengths above 0`,
    "Write width and height, such as --block 40x40.",
  );
}
