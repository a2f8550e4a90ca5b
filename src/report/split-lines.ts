import { sum } from "../numeric/index.ts";
import {
  capBasisOf,
  type FieldCare,
  type FieldOptimum,
  IN_CROP_CARE,
  type Plan,
  type PlanSplit,
  type SettledBlend,
  type Split,
} from "../plan/index.ts";
import { counted, numberText } from "../units/index.ts";
import { oxideText } from "./rate-layers.ts";

/** A line of a sheet: what it is about, and what is said. */
export interface SplitLine {
  readonly label: string;
  readonly text: string;
}

const METHODS: Readonly<Record<Split["method"], string>> = {
  ceiling: "common ceiling",
  share: "common share",
  priority: "by priority",
  optimum: "least cost",
};

/** A way to split in words, the same on sheets, on the command line and in the page: `common ceiling`. */
export const splitMethodInWords = (method: Split["method"]): string => METHODS[method];

const WHEN: Readonly<Record<NonNullable<PlanSplit["broadcastWhen"]>, string>> = {
  "after-harvest": "after harvest",
  "before-crop": "before the crop",
  "in-crop": `in the crop: ${IN_CROP_CARE}`,
};

const broadcastInWords = ({ split }: Plan): string =>
  split.broadcastWhen === undefined
    ? "when the spreader comes is not stated"
    : `the spreader comes ${WHEN[split.broadcastWhen]}`;

const n = numberText;

/** What a field costs with a broadcast pass and without; empty where they were not weighed. */
export function passCostsInWords({
  pass,
  usdWithPass,
  usdWithoutPass,
}: Pick<FieldOptimum, "pass" | "usdWithPass" | "usdWithoutPass">): string {
  if (usdWithPass === null) return "";
  const withPass = `With a broadcast pass $${n(usdWithPass, 0)}`;
  return usdWithoutPass === null
    ? `${withPass}; without one the strip's limits do not let the whole need in.`
    : `${withPass}, without $${n(usdWithoutPass, 0)}: ${pass ? "it pays" : "it does not pay"}.`;
}

/** A part of the need by its name, its oxide as it is printed: `build-up, K₂O`. */
export const needPartInWords = (name: string): string => name.replace(/P2O5|K2O/, oxideText);

/** How the split came about and what it costs, line by line. */
export function splitLines(plan: Plan, split: Split): SplitLine[] {
  const lines: SplitLine[] = [{ label: "Split", text: howSplit(plan, split) }];
  if (split.layers.length > 0) {
    const parts = split.layers
      .filter((layer) => layer.needLb > 0.5)
      .map((layer) => `${needPartInWords(layer.name)} ${n(layer.stripLb, 0)} of ${n(layer.needLb, 0)} lb`);
    lines.push({ label: "Stays in the strip", text: `${parts.join("; ")}.` });
  }
  if (split.optimum) {
    const one = split.optimum;
    const costs = passCostsInWords(one);
    const pass = costs === "" ? "" : ` ${costs}`;
    lines.push({
      label: "One more pound in the strip",
      text: `${one.worth.words}.${pass} Worked out on ${n(one.classes, 0)} classes of need${one.stepLbPerAc === 0 ? "" : ` of ${one.stepLbPerAc} lb/ac; ${n(one.movedLb.P2O5 + one.movedLb.K2O, 0)} lb of oxide change place by it`}.`,
    });
  }
  const { salt, meter, kept } = split.limitedLbPerAc;
  const taken = [
    ...(salt > 0.05 ? [`${n(salt, 1)} lb/ac by the limit near the seed`] : []),
    ...(meter > 0.05 ? [`${n(meter, 1)} lb/ac by the meters`] : []),
    ...(kept > 0.05 ? [`${n(kept, 1)} lb/ac by ground the strip is kept off`] : []),
  ];
  if (taken.length > 0)
    lines.push({
      label: "Off the full rates",
      text: `${taken.join(", ")}, mean of the field, before the cap.`,
    });
  if (split.p2o5Counts !== null) {
    const leastPound = 1 / split.p2o5Counts.reduce((high, counts) => Math.max(high, counts), 1);
    lines.push({
      label: "Banded P₂O₅",
      text:
        leastPound < 1
          ? `below critical ${n(leastPound, 2)} lb in the strip stand for 1 lb of the need; what is left out is in the balance and draws the soil down.`
          : "no ground lies below critical, so every pound counts as one.",
    });
  }
  lines.push({ label: "Broadcast", text: `${broadcastInWords(plan)}.` });
  return lines;
}

function howSplit(plan: Plan, split: Split): string {
  const { acresPerDay } = plan.split;
  const from =
    acresPerDay === undefined
      ? capBasisOf(plan.split) === "field-mean"
        ? "the field's mean"
        : "the most in any cell"
      : `the mean at which the rig still does ${n(acresPerDay, 0)} ac a day`;
  const cap = split.capLbPerAc === null ? "no cap" : `at most ${n(split.capLbPerAc, 0)} lb/ac, ${from}`;
  const found =
    split.share !== null
      ? split.share >= 1
        ? "; the cap cuts nothing"
        : `; ${n(100 * split.share, 1)} % of what lies above the starter`
      : split.method === "ceiling"
        ? split.ceilingLbPerAc === null
          ? "; the cap cuts nothing"
          : `; no cell above ${n(split.ceilingLbPerAc, 1)} lb/ac before rounding`
        : "";
  const starter = plan.split.starterLbPerAc;
  const first = starter
    ? `; starter first: ${Object.entries(starter)
        .map(([oxide, lb]) => `${lb} lb ${oxideText(oxide)}/ac`)
        .join(", ")}`
    : "";
  return `${splitMethodInWords(split.method)}, ${cap}${found}${first}.`;
}

/** Salt near the seed and what rides along, line by line; the flags come first. */
export function careLines({ salt, riding }: FieldCare): SplitLine[] {
  const place = {
    "in the furrow": salt.told ? "with the seed" : "not told, so it counts as with the seed",
    "2 x 2": "2 to 3 in. from the seed",
    beyond: "more than 3 in. from the seed",
  }[salt.place];
  const per1000 =
    salt.highestLbPer1000Ft === null ? "" : `, ${n(salt.highestLbPer1000Ft, 2)} lb per 1,000 ft of row`;
  const starter = salt.starterLbPerAc > 0 ? `, ${n(salt.starterLbPerAc, 0)} of it the planter's starter` : "";
  const over =
    salt.place === "beyond"
      ? `no limit holds there; ${n(salt.overAc, 1)} ac are above the 2 x 2 limit of ${saltLimitInWords(salt, 0)}`
      : `that limit is ${salt.isTextureTold ? `${n(salt.otherLimitLbPerAc, 1)} lb/ac, on sandy soil ${n(salt.sandyLimitLbPerAc, 1)}` : `${n(salt.sandyLimitLbPerAc, 1)} lb/ac, that of sandy soil, since the texture is not told`}; above it on ${n(salt.overAc, 1)} ac`;
  const named = salt.needsName
    ? notedInWords(salt)
    : salt.acknowledgedBy === null
      ? ""
      : ` Noted by ${salt.acknowledgedBy}.`;
  return [
    {
      label: "Salt near the seed",
      text: `N + K₂O + S in the strip: mean ${n(salt.meanLbPerAc, 1)}, most ${n(salt.highestLbPerAc, 1)} lb/ac${per1000}${starter}. Distance ${place}: ${over}.${named} No maximum for dry bands is published.`,
    },
    ...(salt.questions.length === 0
      ? []
      : [{ label: "Not answered", text: salt.questions.map((question) => question.text).join(" ") }]),
    ...salt.flags
      .filter(({ code }) => code !== "salt-over-limit" && code !== "salt-over-2x2-beyond")
      .map((flag) => ({ label: "Near the seed", text: `${flag.message}.` })),
    ...riding.map((one) => ({
      label: `${one.element} on bin ${one.bin}`,
      text:
        one.lowLbPerAc === null
          ? "goes nowhere."
          : `${n(one.lowLbPerAc, 2)} to ${n(one.highLbPerAc!, 2)} lb/ac where the product goes, ${n(one.totalLb, 0)} lb in all; ${n(one.acresMissed, 1)} ac get none${one.wantedLbPerAc === null ? "" : `, ${n(one.acresBelowWanted, 1)} ac less than the ${one.wantedLbPerAc} wanted`}.`,
    })),
  ];
}

/** The limit that the acres above it are counted by: that of sandy soil where nobody told which soil is sandy. */
export const saltLimitInWords = (salt: FieldCare["salt"], decimals: number): string =>
  salt.isTextureTold
    ? `${n(salt.otherLimitLbPerAc, decimals)} (sandy ${n(salt.sandyLimitLbPerAc, decimals)})`
    : `${n(salt.sandyLimitLbPerAc, decimals)} (as sandy, since the texture is not told)`;

const notedInWords = ({ notedFor }: FieldCare["salt"]): string =>
  notedFor === null
    ? " Somebody must take note of it by name in the plan."
    : ` What ${notedFor.by} noted was ${notedFor.products.join(" and ")}, most ${n(notedFor.highestLbPerAc, 1)} lb/ac; this is noted by nobody.`;

/** What must be settled about salt near the seed before maps are driven that are not the plan's own; null where nothing must. */
export function saltDoubt({ salt }: FieldCare): string | null {
  const most = `most ${n(salt.highestLbPerAc, 1)} lb/ac, ${n(salt.overAc, 1)} ac above`;
  if (salt.told && salt.blocked) {
    return `Salt near the seed: ${most} the limit there, ${saltLimitInWords(salt, 1)}: do not lay it so`;
  }
  if (!salt.needsName) return null;
  const { notedFor } = salt;
  return notedFor === null
    ? `Salt near the seed: ${most} the 2 x 2 limit; nobody has taken note of it by name: ask before the first pass`
    : `Salt near the seed: ${most} the 2 x 2 limit; ${notedFor.by} took note of ${notedFor.products.join(" and ")}, most ${n(notedFor.highestLbPerAc, 1)}, not of this: ask before the first pass`;
}

/** A blend by its parts, batch, misfit and what to mind. */
export function blendLines(settled: SettledBlend): SplitLine[] {
  const { product, parts, facts, fields } = settled;
  const percent = parts.map((part) => `${part.product.id} ${n(100 * part.share, 2)} %`).join(", ");
  const { n: nitrogen, p2o5, k2o, s } = product.grade;
  const analysis = [nitrogen, p2o5, k2o].map((value) => n(value, 2)).join("-");
  const batch = facts.batch;
  const money = (value: number): string => (facts.hasPrices ? `$${n(value, 0)}` : `${n(value, 0)} lb`);
  return [
    {
      label: `Blend ${product.id}`,
      text: `${percent}; ${analysis}${s > 0 ? `-${n(s, 2)}S` : ""}; for ${counted(fields.length, "field")}${facts.k2oPerP2o5 === null ? "" : `; ${n(facts.k2oPerP2o5, 3)} lb K₂O a lb P₂O₅`}${facts.saltIndex === null ? "" : `; salt index ${n(facts.saltIndex, 0)} (it ranks, it does not foretell injury)`}.`,
    },
    ...(batch
      ? [
          {
            label: "Batch to weigh",
            text: `${batch.parts.map((part) => `${part.id} ${n(part.lb, 0)} lb`).join(" + ")} = ${n(batch.batchLb, 0)} lb; this analysis is in the maps.`,
          },
        ]
      : []),
    ...(facts.misfit === null
      ? []
      : [
          {
            label: "One ratio for all its ground",
            text: `if it alone brought the whole need, too much and too little would come to ${money(facts.misfit)}${facts.misfitOneRatio !== null && facts.misfitOneRatio - facts.misfit > 0.5 ? `; with one ratio for every field to ${money(facts.misfitOneRatio)}` : ""}. What the spreader makes up of it is not lost.`,
          },
        ]),
    ...facts.pairs.map((pair) => ({
      label: pair.pair.join(" with "),
      text: `${pair.verdict}: ${pair.words} (${pair.source === "" ? pair.status : `${pair.source}; ${pair.status}`}).`,
    })),
    {
      label: "Damp air",
      text: `draws water above about ${n(facts.humidity.limitPercent, 0)} % humidity (${facts.humidity.status}); empty bins and tender on damp nights.`,
    },
  ];
}

/** What a blend takes of each part over all fields, lb: for the order. */
export function blendParts(result: {
  readonly blends: readonly SettledBlend[];
  readonly totals: readonly { readonly product: string; readonly pass: string; readonly lb: number }[];
}): { readonly product: string; readonly lb: number }[] {
  const lb = new Map<string, number>();
  for (const { product, parts } of result.blends) {
    const all = sum(
      result.totals.filter((one) => one.product === product.id && one.pass === "all").map((one) => one.lb),
    );
    for (const part of parts) lb.set(part.product.id, (lb.get(part.product.id) ?? 0) + all * part.share);
  }
  return [...lb].map(([product, pounds]) => ({ product, lb: pounds }));
}
