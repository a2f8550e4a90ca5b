import { InputError, noticeLines } from "../../errors/index.ts";
import {
  binsToEmpty,
  doneAfter,
  type FieldResult,
  type FieldWorkDone,
  type Laid,
  LEAST_LEFT_AC,
  laidAgainNotices,
  logsInField,
  nothingLeft,
  ownProducts,
  type Plan,
  type ProductLog,
  type RunResult,
  remainderMaps,
} from "../../plan/index.ts";
import { productById } from "../../products/index.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import { remainderOf } from "../calculations/remainder.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { allInJson } from "../explain.ts";
import { numberOption, numbersOption, productNumbers, STRIP_SHARE } from "../number-option.ts";
import { prepareOut } from "../out-folder.ts";
import { readLogs } from "../read-logs.ts";
import { runPlan } from "../run-plan.ts";
import { sayNotices } from "../talk.ts";
import { binToEmptyWords, remainderFieldWords, remainderWords } from "../words/remainder-words.ts";
import { writeRemainder } from "../write-remainder.ts";

/** `remainder PLAN` or `remainder --input X.json`: the strip map of what is not worked yet. */
export const command: Command = {
  operands: { shown: "[PLAN]", least: 0, most: 1 },
  about: [
    "The strip maps of what is not worked yet: after a pass by its number (--done-after 24; H1 on the headland;",
    "driven:30 where a pass is driven in parts), by logs (--log), or by a line whose right side is worked (--line).",
    "--instead 11-52-0=18-46-0 lays another product, as much of the oxide; --rate 0-0-60=80 one rate on all that is",
    "left where the map has any, --strip-share 0.8 that share of its rates. --out DIR writes what stick takes:",
    "maps named KETTLE_L_REM1152 in the forms that the controller loads, with a cab sheet; worked ground has 0.",
    "--input takes the calculation alone; docs/operations.md shows its shape. Key: zero-rate.",
  ].join("\n"),
  options: [
    ...(["input", "field", "answer", "done-after", "log", "product", "line"] as const),
    ...(["instead", "rate", "strip-share", "out", "overwrite"] as const),
  ],
  run: left,
};

async function left(call: Call): Promise<Outcome> {
  const given = planOrInput(call, "remainder");
  if ("input" in given) {
    const result = remainderOf(await readCalculation(call, given.input));
    return { exit: exit.done, data: remainderWords(result).join("\n"), json: result };
  }
  const { out } = call.options;
  if (out !== undefined) await prepareOut(call, out);
  const worked = await runPlan(call, given.plan);
  const { plan } = worked.result;
  const [field, ...more] = worked.result.fields;
  if (field === undefined || more.length > 0) {
    throw new InputError("one-field-only", "remainder works on one field", "Add --field ID.");
  }
  const done = await workDone(call, worked.result, field);
  const share = numberOption(call, "strip-share", STRIP_SHARE);
  const inStrip = field.prescriptions.filter(({ pass }) => pass === "strip").map(({ product }) => product);
  const instead = othersInstead(call, plan, inStrip);
  const made = remainderMaps(plan, field, done.work, {
    instead,
    rates: productNumbers(
      call,
      "rate",
      inStrip.map((product) => instead[product]?.product ?? product),
    ),
    ...(share === undefined ? {} : { share }),
  });
  // Less than a hundredth of an acre is what rounding leaves.
  if (made.remainder.areaAc < LEAST_LEFT_AC) throw nothingLeft(field.field.name, done.words);
  const stand = worked.result.stands.find(({ fieldId }) => fieldId === made.fieldId);
  if (out !== undefined && stand?.frozen) {
    throw new InputError(
      "field-finished",
      `the plan's ledger says that the strip pass is finished in ${field.field.name}; no map of its remainder was written`,
      "Take that line of the ledger back first if it is wrong (ledger --void).",
    );
  }
  sayNotices(call.talk, laidAgainNotices(field, stand, made.remainder.areaAc));
  const toEmpty = binsToEmpty(plan, field, done.work, made);
  const before = toEmpty.map(binToEmptyWords);
  const words = [
    ...noticeLines(made.notices, allInJson),
    ...remainderFieldWords(made, field, done.words, plan.rig.rateStepLbPerAc),
    ...before.map((line) => `${line}.`),
  ];
  if (out !== undefined) {
    words.push(...(await writeRemainder(call, out, worked, made, done.words, before)));
  }
  const { segments: _, ...figures } = made.remainder;
  return {
    exit: exit.done,
    data: words.join("\n"),
    json: {
      fieldId: made.fieldId,
      done: done.words,
      ...figures,
      salt: {
        meanLbPerAc: made.care.salt.meanLbPerAc,
        highestLbPerAc: made.care.salt.highestLbPerAc,
        overAc: made.care.salt.overAc,
        acknowledgedBy: made.care.salt.acknowledgedBy,
        notedFor: made.care.salt.notedFor,
      },
      instead: made.instead,
      notices: made.notices,
      toEmpty,
      prescriptions: made.prescriptions.map(({ stem, bin, product, totalLb }) => ({
        stem,
        bin,
        product,
        totalLb,
      })),
    },
  };
}

/** Of a display's file of several fields those logs that lie in this one; all where none does, which is refused as that. */
function logsIn(field: FieldResult, logs: readonly ProductLog[]): readonly ProductLog[] {
  const there = logsInField(field, logs);
  return there.length > 0 ? there : logs;
}

/** Products of --instead by those whose place they take; the plan's own products by their ids. */
function othersInstead(call: Call, plan: Plan, inStrip: readonly string[]): Record<string, Laid> {
  return Object.fromEntries(
    [...call.options.instead].map(([old, name]) => {
      if (!inStrip.includes(old)) {
        const message = `--instead ${old}=${name}: no strip map here is of ${old}`;
        throw new InputError("no-such-product", message, `Name one of: ${inStrip.join(", ")}.`);
      }
      return [old, { product: name, analysis: productById(name, ownProducts(plan)).grade }];
    }),
  );
}

async function workDone(
  call: Call,
  { plan, ledger }: RunResult,
  field: FieldResult,
): Promise<{ readonly work: FieldWorkDone; readonly words: string }> {
  const { log, "done-after": after } = call.options;
  const line = numbersOption(call, "line");
  if ([after !== undefined, log.length > 0, line !== undefined].filter((one) => one).length !== 1) {
    throw new InputError(
      "work-not-told",
      "what was worked has to be told in one way",
      "Give one of --done-after PASS, --log FILE or --line LON,LAT,LON,LAT.",
    );
  }
  if (after !== undefined) {
    const { driven, words } = doneAfter(field, after);
    return { work: { by: "pass", doneAfter: driven }, words };
  }
  if (line === undefined) {
    return {
      work: { by: "log", logs: logsIn(field, (await readLogs(call, plan)).logs), ledger: ledger.entries },
      words: "by the log of what was laid",
    };
  }
  const [lonA, latA, lonB, latB, ...rest] = line;
  if (latB === undefined || rest.length > 0) {
    throw new InputError("work-not-told", `--line has ${line.length} numbers`, "Give LON,LAT,LON,LAT.");
  }
  const ends = [
    [lonA!, latA!],
    [lonB!, latB],
  ] as const;
  return { work: { by: "line", line: ends }, words: "to the left of the line given" };
}
