import { meteredOfScaleLb } from "../../capacity/index.ts";
import { InputError, type Notice, noticeLines } from "../../errors/index.ts";
import type { RefillStand } from "../../fills/index.ts";
import {
  doneAfter,
  type FieldFills,
  type FieldResult,
  fillPlan,
  type RunResult,
  requireSomethingLeft,
  rigFigures,
  tenderPlaces,
} from "../../plan/index.ts";
import { scalesInWords, wholeStopsInWords } from "../../report/index.ts";
import { fillsOf } from "../calculations/fills.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { allInJson } from "../explain.ts";
import { METER_FACTOR, numberOption, numbersOption } from "../number-option.ts";
import { exitOf, runPlan } from "../run-plan.ts";
import { assumedWords } from "../words/assumed-words.ts";
import { fieldFillWords } from "../words/field-fill-words.ts";
import { fillWords } from "../words/fill-words.ts";

/** `fills PLAN` or `fills --input X.json`: where to stop and fill. */
export const command: Command = {
  operands: { shown: "[PLAN]", least: 0, most: 1 },
  about: [
    "Where to stop and fill: numbered stops with the passes done, what each bin should read, pounds to load, acres,",
    "minutes and waiting. Least minutes over the places and sides of the tender and both ends to begin at, held",
    "against running until nearly empty. A bin that cannot finish a pass is said before the pass begins.",
    "After a stop: --field ID --done-after 24 (the last pass done, by its number; H1 on the headland, driven:30",
    "by count) --bin-lb 900,2100 plans on from what the bins' scales show, in the",
    "order of the bins. --input takes the calculation alone; docs/operations.md shows its shape.",
  ].join("\n"),
  options: ["input", "field", "answer", "done-after", "bin-lb", "meter-factor"],
  run: fills,
};

async function fills(call: Call): Promise<Outcome> {
  const given = planOrInput(call, "fills");
  if ("input" in given) {
    const result = fillsOf(await readCalculation(call, given.input));
    return { exit: exit.done, data: fillWords(result).join("\n"), json: result };
  }
  const { result } = await runPlan(call, given.plan);
  const { plan } = result;
  if (call.options["done-after"] !== undefined && result.fields.length !== 1) {
    throw new InputError(
      "one-field-only",
      `--done-after was given for ${result.fields.length} fields`,
      "Add --field ID.",
    );
  }
  const stand = standOf(
    call,
    rigFigures(plan).bins.map((bin) => bin.residualLb),
    result.fields[0]!,
  );
  const made = result.fields.map((field) => ({
    name: field.field.name,
    fills: fillPlan(plan, field, {
      places: tenderPlaces(plan, field),
      ...(stand === undefined ? {} : { stand }),
    }),
  }));
  const doubts =
    stand === undefined ? begunNotices(result) : scaleNotices(numbersOption(call, "bin-lb")!, made[0]!.fills);
  const words = [
    ...noticeLines(doubts, allInJson),
    ...(stand === undefined ? [] : [`Planned on ${stand.words}.`]),
    ...made.flatMap(({ name, fills: one }) => [...fieldFillWords(one, name, stand === undefined), ""]),
  ];
  const json = {
    incomplete: result.incomplete,
    fields: made.map((one): FieldFills => one.fills),
    notices: doubts,
  };
  return {
    exit: exitOf(result),
    data: [...words, ...assumedWords(made[0]!.fills.assumed)].join("\n"),
    json,
  };
}

/** Fields that are begun or done by the ledger: stops of a whole field are not those of the rest. */
function begunNotices({ fields, stands }: RunResult): Notice[] {
  return fields.flatMap(({ field }): Notice[] => {
    const stand = stands.find((one) => one.fieldId === field.id);
    const planOn = `plan on from where the rig stands, --field ${field.id} --done-after N --bin-lb what the scales show`;
    const words = wholeStopsInWords(field.name, stand, planOn);
    if (words === "") return [];
    const message = `${words}.`;
    return [{ code: "fills-of-whole-field", message, where: field.id }];
  });
}

const scaleNotices = (scaleLb: readonly number[], fills: FieldFills): Notice[] =>
  scalesInWords(scaleLb, fills).map(({ bin, words }) => {
    const { id, product } = fills.bins[bin]!;
    return { code: "scale-out-of-range", message: `bin ${id}, ${product}: ${words}`, where: id };
  });

function standOf(
  call: Call,
  residualLb: readonly number[],
  field: FieldResult,
): (RefillStand & { readonly words: string }) | undefined {
  const bins = residualLb.length;
  const { "done-after": after } = call.options;
  const binLb = numbersOption(call, "bin-lb");
  const meterFactor = numberOption(call, "meter-factor", METER_FACTOR);
  if (after === undefined && binLb === undefined && meterFactor === undefined) return undefined;
  if (after === undefined || binLb === undefined || binLb.length !== bins) {
    throw new InputError(
      "stand-not-told",
      `to plan on from a stop, the passes done and the pounds in each of ${bins} bins are needed`,
      "Give --done-after PASS and --bin-lb with one figure a bin, separated by commas.",
    );
  }
  const below = binLb.find((lb) => !(lb >= 0));
  if (below !== undefined) {
    throw new InputError(
      "stand-not-told",
      `--bin-lb ${below}: a bin holds 0 lb or more`,
      "Read the scale again.",
    );
  }
  const meteredLb = binLb.map((lb, b) => meteredOfScaleLb(lb, residualLb[b]!));
  const done = doneAfter(field, after);
  requireSomethingLeft(field, done);
  const { driven, words } = done;
  return {
    stoppedAfterPass: driven,
    words,
    binLb: meteredLb,
    ...(meterFactor === undefined ? {} : { meterFactor }),
  };
}
