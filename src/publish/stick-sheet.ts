import { sum } from "../numeric/index.ts";
import { FALLBACK_MARK, KG_HA_MARK } from "../prescription/index.ts";
import { acresText, type LoadForm } from "../report/index.ts";
import { numberText } from "../units/index.ts";
import { besideParts } from "./beside-catch-ups.ts";
import { isFallbackPath } from "./form-folder.ts";
import { asOnStick, plain, type SheetField } from "./sheet-fields.ts";
import type { Stick } from "./stick-json.ts";

/** What a stick's sheet says besides the build's. */
interface SheetWords {
  readonly fields: readonly SheetField[];
  /** What stands on the stick beside the set. */
  readonly beside: readonly string[];
  /** What is said of its fields. */
  readonly said: readonly string[];
}

/**
 * The cab sheet as it goes on a stick: what goes to the other machine, fields and forms that are not on it taken out, every map by the
 * path it has there, letter of its revision and all, and at the top of the file which revision this is, what to do with
 * the stick, what stands on it beside the set, which fields are not on it, and what is said of them.
 */
export function stickSheet(
  cab: string,
  stick: Stick,
  forms: readonly LoadForm[],
  { fields, beside, said }: SheetWords,
): string {
  const names = new Map<string, string>();
  const ofMap = forms.includes("kg-ha") ? KG_HA_MARK : "";
  const earlier = new Set(fields.flatMap(({ id, earlier: own }) => (own.length > 0 ? [id] : [])));
  for (const { field, stem, name, files, load } of stick.maps) {
    if (earlier.has(field)) continue;
    // What is left out is named as well: a display may have it from elsewhere.
    names.set(`${stem}${ofMap}`, name);
    for (const path of files.filter((one) => one.endsWith(".shp"))) {
      const isFirst = load?.form === "fallback" && path === `${load.name}.shp`;
      const mark = isFirst || isFallbackPath(path, forms) ? FALLBACK_MARK : ofMap;
      names.set(`${stem}${mark}`, path.slice(0, -".shp".length));
    }
  }
  const other = stick.pass === "strip" ? "broadcast" : "strip";
  const ours = cab.replaceAll(new RegExp(`<(tr|td|th) data-pass="${other}">.*?</\\1>`, "gs"), "");
  const named = asOnStick(ours, stick.pass, fields, forms).replaceAll(
    /[A-Z0-9]+(?:_[A-Z0-9]+)+/g,
    (word) => names.get(word) ?? word,
  );
  const { catchUps, others } = besideParts(stick.pass, beside);
  const also = [
    ...(others.length === 0
      ? []
      : [` <b>Not of this set, do not load: ${others.map(plain).join(", ")}.</b>`]),
    ...(catchUps.length === 0
      ? []
      : [
          ` Not of this set, catch-up maps, each to be loaded for its own field: ${catchUps.map(plain).join(", ")}.`,
        ]),
  ].join("");
  const missing = fields.filter((field) => field.forms.length === 0 && field.earlier.length === 0);
  const notHere =
    missing.length === 0 ? "" : ` Not on this stick: ${missing.map(({ name }) => plain(name)).join(", ")}.`;
  const line =
    `<p style="max-width:700px;margin:8px auto"><b>Stick, revision ${stick.revision}.</b> Maps for the ` +
    `${stick.pass === "strip" ? "strip rig" : "spreader"}; the letter at the end of a name is the revision the map last changed in. ` +
    `${zeroWords(stick)}${also}${notHere} Test-load today, before the field.${said.map((words) => ` <b>${plain(words)}.</b>`).join("")}</p>`;
  return named.replace("<body>\n", `<body>\n${line}\n`);
}

/** Holes and ground kept clear that have rate 0 in what is loaded first, for a controller that must not get one; empty where there are none. */
export function zerosInWords({ maps, zeroRate }: Stick): string {
  if (zeroRate.does !== "small") return "";
  const acresOf = (which: "holesAc" | "keptClearAc"): number =>
    sum([...new Map(maps.map(({ field, load }) => [field, load?.[which] ?? 0])).values()]);
  const [holesAc, keptClearAc] = [acresOf("holesAc"), acresOf("keptClearAc")];
  return [
    holesAc === 0
      ? []
      : `Holes of the fields, ${acresText(holesAc)} ac, have rate 0 in these files: do not drive into one with the meters on; stop them by hand before it.`,
    keptClearAc === 0
      ? []
      : `Ground that is kept clear, ${acresText(keptClearAc)} ac, has rate 0 in these files: do not drive onto it with the meters on; stop them by hand before it.`,
  ]
    .flat()
    .join(" ");
}

/** The least rates of what is to be loaded, by bin or by the spreader's product; empty where a stick of an earlier version does not tell them. */
function leastInWords({ maps, pass }: Stick): string {
  const least = new Map<string, number>();
  for (const { bin, product, load } of maps) {
    if (load === undefined) return "";
    const what = pass === "strip" ? `in bin ${bin}` : `of ${product}`;
    least.set(what, Math.min(load.minLbPerAc, least.get(what) ?? Infinity));
  }
  const rates = [...least].map(([what, lbPerAc]) => `${numberText(lbPerAc, 0)} lb/ac ${what}`);
  return `; what is to be loaded has none, least ${plain(rates.join(", "))}`;
}

function zeroWords(stick: Stick): string {
  const { zeroRate } = stick;
  if (zeroRate.does === "small") {
    const zeros = zerosInWords(stick);
    return `Rate 0: this controller must not get one${leastInWords(stick)}.${zeros === "" ? "" : ` <b>${plain(zeros)}</b>`}`;
  }
  return zeroRate.does === "off"
    ? "Rate 0: the meter stops."
    : "Rate 0: this controller takes it for no data and lays its default rate, so the default rate must be 0.";
}
