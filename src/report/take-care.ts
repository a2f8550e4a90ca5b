import { cautions } from "../agronomy/index.ts";
import { sum } from "../numeric/index.ts";
import { laidLbPerAc, type Plan, smallRateOf } from "../plan/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { capital, numberText } from "../units/index.ts";
import type { DrawnField } from "./drawn-field.ts";
import { BESIDE_SEED_LB_PER_AC, openAcres, stripSalt } from "./map-words.ts";
import { acresText, rateText, type UnitSystem } from "./numbers.ts";
import { careLines, saltLimitInWords } from "./split-lines.ts";

/** The cautions of every place, each with where it holds and how it is known. */
export const cautionsInWords = (): string[] =>
  cautions.map(({ place, text, status }) => {
    const begun = capital(place);
    const where = place === "everywhere" || text.startsWith(begun) ? "" : `${begun}: `;
    return `${where}${text} (${status})`;
  });

/**
 * What the operator minds in this field. The salt figures come from the files, over `areaAc` of each piece where only a part of
 * the field counts; the rest is common practice (ours). With `plan` it is said what a small rate in place of 0 adds to them.
 */
export function takeCare(field: DrawnField, areaAc?: Float64Array, plan?: Plan): string[] {
  const salt = stripSalt(field, areaAc);
  const told = field.care.salt.told
    ? careLines(field.care).map(({ label, text }) => `${label}: ${text}`)
    : null;
  const over =
    salt.overAc > 0.05
      ? `${acresText(salt.overAc)} ac get more than ${BESIDE_SEED_LB_PER_AC} lb/ac, the lower limit for a band 2 in. beside and below the seed.`
      : `No ground gets more than ${BESIDE_SEED_LB_PER_AC} lb/ac, the lower limit for a band 2 in. beside and below the seed.`;
  const limit = saltLimitInWords(field.care.salt, 1);
  const bySeed = `That is for a band there; where it lies is not told, and by the limit with the seed in lb/ac, ${limit}, ${acresText(field.care.salt.overAc)} ac are above: give seed.distanceIn in the plan.`;
  return [
    ...(told ?? [
      `Salt: fertilizer lies under the seed row. N + K₂O + S in the strip: mean ${rateText(salt.mean)}, least ${rateText(salt.least)}, most ${rateText(salt.most)} lb/ac. ${over} ${bySeed} No limit for strips is published; dry sand is worst; rain or some days before planting help.`,
    ]),
    ...(plan === undefined ? [] : smallRateSalt(plan, field, areaAc)),
    "Too much: a wrong file, bin or unit lays on many times the rate. At the first stop compare pounds used with acres done.",
    `${WATER} No strips in wet soil.`,
    ...keptClear(field),
    DUST,
    "Machinery: engine off and all at rest before anyone reaches into meter, fan or auger. Nobody on or behind the rig when it moves.",
    FIRST,
  ];
}

/** Salt of what the files to load lay, where they have a small rate in place of the maps' 0; nothing where they have none. */
function smallRateSalt(plan: Plan, field: DrawnField, areaAc?: Float64Array): string[] {
  const { pieces } = field.passes;
  const smallOf = (map: Prescription): number => smallRateOf(plan, map, field.extras);
  const maps = stripSalt(field, areaAc);
  const files = stripSalt(field, areaAc, (map, k) => laidLbPerAc(map, pieces[k]!, k, smallOf(map)));
  if (files.mean - maps.mean < 0.05) return [];
  const small = Math.max(...field.prescriptions.map(smallOf));
  const over =
    files.overAc - maps.overAc > 0.05
      ? `; ${acresText(files.overAc)} ac get more than ${BESIDE_SEED_LB_PER_AC} lb/ac`
      : "";
  return [
    `Salt with the files to load, which lay ${numberText(small, small % 1 === 0 ? 0 : 1)} lb/ac in place of 0: mean ${rateText(files.mean, "us", 1)}, most ${rateText(files.most, "us", 1)} lb/ac${over}. The figures above and the plat are the maps', without it.`,
  ];
}

const WATER =
  "Water: nothing into waterways, ditches, inlets or the setbacks of your local code. No filling beside wells or inlets; sweep up spills.";
const DUST = "Dust: mask and goggles at the tender.";
const FIRST = "Local codes, the product's label and your licensed adviser go before this sheet.";

/** What the spreader's operator minds in this field; common practice (ours). */
export const spreaderCare = (field: DrawnField): string[] => [
  "Too much: a wrong file, product or unit lays on many times the rate. At the first stop compare pounds used with acres done.",
  WATER,
  ...keptClear(field),
  DUST,
  "Machinery: engine off and all at rest before anyone reaches into gate, chain or discs. Nobody on or behind the spreader when it moves.",
  FIRST,
];

/** Ground that exclusions keep clear, by machine: the maps have 0 there, a flat rate does not know it. */
function keptClear(field: DrawnField): string[] {
  const { places } = field.excluded;
  if (places.length === 0) return [];
  const named = places.map(({ what, method, setbackFt, areaAc }) => {
    const by = { strip: "strip rig", surface: "spreader", both: "strip rig and spreader" }[method];
    return `${what} and ${numberText(setbackFt, 0)} ft round it, ${acresText(areaAc)} ac (${by})`;
  });
  const off = (pass: "strip" | "broadcast") => acresText(piecesOff(field, pass));
  return [
    `Kept clear in this field: ${named.join("; ")}. The maps have 0 on ${off("strip")} ac for the strip rig and ${off("broadcast")} ac for the spreader; at a flat rate shut off there by hand.`,
  ];
}

const piecesOff = (field: DrawnField, pass: "strip" | "broadcast"): number =>
  sum((pass === "strip" ? field.passes : field.swaths).areaAc) - openAcres(field, pass);

/**
 * What to look at before the machine of the pass moves, in order; `unit` is that of the files and of `leastRates`, `ac` are acres as the file has them,
 * `offField` what is sent at the start and outside the field, lb/ac; null for a controller that must not get a rate 0.
 */
export function beforeMoving(
  pass: "strip" | "broadcast",
  unit: "lb/ac" | "kg/ha",
  leastRates: string,
  swath: string,
  system: UnitSystem,
  ac: { readonly file: number; readonly holes: number; readonly keptClear: number },
  offField: { readonly start: number; readonly outOfField: number } | null,
): string[] {
  // A display in kg/ha shows hectares.
  const area = (one: number): string =>
    system === "us" ? `${acresText(one)} ac` : `${acresText(one)} ac (${acresText(one, system)} ha)`;
  const of =
    ac.holes === 0 ? "" : ` with the holes, which have rate 0, and the field ${area(ac.file - ac.holes)}`;
  const aside = [ac.holes > 0 ? "the holes" : [], ac.keptClear > 0 ? "the ground kept clear" : []].flat();
  const where = aside.length === 0 ? "" : ` outside ${aside.join(" and ")}`;
  const isStrip = pass === "strip";
  return [
    "Only this plan's files on the stick and in the display.",
    isStrip
      ? "Ticket, bin, product, file and column as above."
      : "Ticket, product, file and column as above.",
    `Unit ${unit}, of the whole field${isStrip ? ", not of the strip" : ""}.`,
    `Swath ${swath}; the file has ${area(ac.file)}${of}; rates as above.`,
    `Least rate ${leastRates} ${unit}${where}: can the ${isStrip ? "meter" : "spreader"} do it?`,
    offField !== null
      ? `Default rate ${offField.start}, rate outside the field ${offField.outOfField}.`
      : "No rate 0 anywhere on the display: outside the field the meters are off by hand.",
    isStrip
      ? "Catch test done for each bin."
      : "Rate and spread of each product tested at this width; set anew after a change of product.",
  ];
}
