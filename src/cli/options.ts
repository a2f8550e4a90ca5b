/**
 * Every option of every verb, so that a flag means one thing everywhere. To add one: a line in
 * `OptionValues`, a line in `optionTable`, and its name in the `options` of the verbs that take it.
 */
export interface OptionValues {
  readonly out: string | undefined;
  readonly overwrite: boolean;
  readonly field: readonly string[];
  readonly answer: ReadonlyMap<string, string>;
  readonly as: string | undefined;
  readonly guide: string | undefined;
  readonly crop: string | undefined;
  readonly yield: string | undefined;
  readonly "second-yield": string | undefined;
  readonly p: string | undefined;
  readonly "p-method": string | undefined;
  readonly k: string | undefined;
  readonly "k-method": string | undefined;
  readonly cec: string | undefined;
  readonly option: ReadonlyMap<string, string>;
  readonly samples: string | undefined;
  readonly guidance: string | undefined;
  readonly heading: string | undefined;
  readonly rows: string | undefined;
  readonly "row-spacing-in": string | undefined;
  readonly "headland-passes": string | undefined;
  readonly "segment-m": string | undefined;
  readonly x: string | undefined;
  readonly y: string | undefined;
  readonly value: string | undefined;
  readonly targets: string | undefined;
  readonly "leave-one-out": boolean;
  readonly model: string | undefined;
  readonly auto: boolean;
  readonly block: string | undefined;
  readonly nearest: string | undefined;
  readonly port: string | undefined;
  readonly to: string | undefined;
  readonly pass: string | undefined;
  readonly mark: ReadonlyMap<string, string>;
  readonly reissue: boolean;
  readonly plan: string | undefined;
  readonly input: string | undefined;
  readonly log: readonly string[];
  readonly product: string | undefined;
  readonly tickets: string | undefined;
  readonly "into-ledger": boolean;
  readonly again: boolean;
  readonly rate: ReadonlyMap<string, string>;
  readonly instead: ReadonlyMap<string, string>;
  readonly line: string | undefined;
  readonly "done-after": string | undefined;
  readonly "bin-lb": string | undefined;
  readonly "meter-factor": string | undefined;
  readonly start: string | undefined;
  readonly tenders: string | undefined;
  readonly mph: string | undefined;
  readonly hours: string | undefined;
  readonly "strip-share": string | undefined;
  readonly price: ReadonlyMap<string, string>;
  readonly add: string | undefined;
  readonly finish: readonly string[];
  readonly void: string | undefined;
  readonly why: string | undefined;
  readonly date: string | undefined;
  readonly from: string | undefined;
  readonly json: boolean;
  readonly quiet: boolean;
  readonly help: boolean;
  readonly version: boolean;
}

export type OptionName = keyof OptionValues;

/** `switch` takes no value; `text` one, given once; `texts` one each time; `pairs` a key=value each time. */
type OptionKind = "switch" | "text" | "texts" | "pairs";

interface OptionEntry<Kind extends OptionKind = OptionKind> {
  readonly kind: Kind;
  /** What the value is called in help; empty for a switch. */
  readonly value: string;
  /** One line of help. */
  readonly about: string;
}

type KindOf<Value> = Value extends boolean
  ? "switch"
  : Value extends readonly string[]
    ? "texts"
    : Value extends ReadonlyMap<string, string>
      ? "pairs"
      : "text";

export const optionTable: { readonly [Name in OptionName]: OptionEntry<KindOf<OptionValues[Name]>> } = {
  out: { kind: "text", value: "DIR", about: "folder to write into; made when missing" },
  overwrite: {
    kind: "switch",
    value: "",
    about: "replace what an earlier run wrote there, and nothing else",
  },
  field: { kind: "texts", value: "ID", about: "only this field; may be repeated" },
  answer: { kind: "pairs", value: "KEY=VALUE", about: "answer to a question; may be repeated" },
  as: { kind: "text", value: "ROLE", about: "role of the file, such as boundary or samples; else inferred" },
  guide: { kind: "text", value: "ID", about: "guide to read" },
  crop: { kind: "text", value: "CROP", about: "crop that follows, such as corn or soybean" },
  yield: { kind: "text", value: "BU", about: "yield goal, bushels per acre" },
  "second-yield": { kind: "text", value: "BU", about: "yield goal of the second crop of a two-crop rate" },
  p: { kind: "text", value: "PPM", about: "soil test P, elemental ppm" },
  "p-method": { kind: "text", value: "METHOD", about: "its extractant, such as mehlich-3-icp or bray-p1" },
  k: { kind: "text", value: "PPM", about: "soil test K, elemental ppm" },
  "k-method": { kind: "text", value: "METHOD", about: "its extractant, ammonium-acetate or mehlich-3" },
  cec: { kind: "text", value: "MEQ", about: "cation exchange capacity, meq/100 g" },
  option: { kind: "pairs", value: "KEY=VALUE", about: "what the guide wants to know; may be repeated" },
  guidance: { kind: "text", value: "FILE", about: "file with the guidance line" },
  heading: { kind: "text", value: "DEG", about: "straight passes at so many degrees clockwise from north" },
  rows: { kind: "text", value: "N", about: "rows of the rig" },
  "row-spacing-in": { kind: "text", value: "IN", about: "distance between rows, inches" },
  "headland-passes": { kind: "text", value: "N", about: "passes round the field's edge, 0 to 4" },
  "segment-m": { kind: "text", value: "M", about: "length of a segment along a pass, metres" },
  samples: { kind: "text", value: "FILE", about: "samples (CSV): a lab table, or a table in a plane" },
  x: { kind: "text", value: "NAME", about: "heading of the coordinates to the east" },
  y: { kind: "text", value: "NAME", about: "heading of the coordinates to the north" },
  value: { kind: "text", value: "NAME", about: "heading of the values to interpolate" },
  targets: { kind: "text", value: "FILE", about: "places to estimate at (CSV)" },
  "leave-one-out": { kind: "switch", value: "", about: "estimate each sample from the others" },
  model: { kind: "text", value: "JSON", about: "variogram model; the samples are used as given" },
  auto: { kind: "switch", value: "", about: "average a model from the samples and tell its decisions" },
  block: { kind: "text", value: "WxH", about: "mean over a block of this size at each target" },
  nearest: { kind: "text", value: "N", about: "use only the N samples nearest to each target" },
  port: { kind: "text", value: "N", about: "port of this computer to serve the page on; 0 for any free one" },
  to: { kind: "text", value: "FOLDER", about: "the stick, or a folder on it" },
  pass: { kind: "text", value: "PASS", about: "strip (the usual) or broadcast: a stick is for one machine" },
  mark: {
    kind: "pairs",
    value: "FIELD=STATE",
    about: "mark a field as loaded, done or open; may be repeated",
  },
  reissue: {
    kind: "switch",
    value: "",
    about: "write fields again that are marked or, by the ledger, stripped",
  },
  plan: { kind: "text", value: "PLAN", about: "the plan as it is now, to see whether the set is older" },
  input: {
    kind: "text",
    value: "X.json",
    about: "the calculation alone, on these figures (docs/operations.md)",
  },
  log: {
    kind: "texts",
    value: "FILE",
    about: "as-applied log: CSV, shapefile points, task data; may be repeated",
  },
  product: { kind: "text", value: "PRODUCT", about: "the product a log is of, by its analysis" },
  tickets: { kind: "text", value: "X.json", about: "scale tickets, stock and waste by product (JSON)" },
  "into-ledger": {
    kind: "switch",
    value: "",
    about: "write what was placed into the plan's ledger",
  },
  again: { kind: "switch", value: "", about: "pounds that stand in the ledger already went out once more" },
  rate: {
    kind: "pairs",
    value: "PRODUCT=LBAC",
    about: "one rate for all that is left, lb/ac; may be repeated",
  },
  instead: {
    kind: "pairs",
    value: "OLD=NEW",
    about: "another product in place of one, as much of its oxide; may be repeated",
  },
  line: { kind: "text", value: "LON,LAT,LON,LAT", about: "a line; what lies to its right is worked" },
  "done-after": {
    kind: "text",
    value: "PASS",
    about: "last pass done, by its number; H1 on the headland, driven:30",
  },
  "bin-lb": { kind: "text", value: "LB,LB", about: "what each bin's scale shows, in the order of the bins" },
  "meter-factor": { kind: "text", value: "F", about: "true over logged pounds of a meter check" },
  start: { kind: "text", value: "DATE", about: "first day that may be worked, 2027-04-10" },
  tenders: { kind: "text", value: "N", about: "what if there were so many tenders" },
  mph: { kind: "text", value: "MPH", about: "what if the rig went at this speed" },
  hours: { kind: "text", value: "H", about: "what if so many hours a day were worked" },
  "strip-share": { kind: "text", value: "S", about: "what if the strip got this share of its pounds, 0.8" },
  price: { kind: "pairs", value: "PRODUCT=USD", about: "what if a ton cost so much; may be repeated" },
  add: { kind: "text", value: "X.json", about: "events to write into the ledger (JSON list)" },
  finish: { kind: "texts", value: "FIELD", about: "the field's strip pass is finished; may be repeated" },
  void: { kind: "text", value: "N", about: "take back this line of the ledger; it stays in the file" },
  why: { kind: "text", value: "TEXT", about: "why a line is taken back" },
  date: { kind: "text", value: "DATE", about: "day of the event, 2027-04-18; today when left out" },
  from: { kind: "text", value: "LASTYEAR", about: "last season's plan folder to begin from" },
  json: { kind: "switch", value: "", about: "print the result, the error or the questions as JSON" },
  quiet: { kind: "switch", value: "", about: "no talk and no progress; errors still show" },
  help: { kind: "switch", value: "", about: "show this and stop" },
  version: { kind: "switch", value: "", about: "print the version and stop" },
};

/** Options that every verb takes. */
export const commonOptions: readonly OptionName[] = ["json", "quiet", "help", "version"];
