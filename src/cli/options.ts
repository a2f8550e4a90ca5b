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
  readonly p: string | undefined;
  readonly "p-method": string | undefined;
  readonly k: string | undefined;
  readonly "k-method": string | undefined;
  readonly cec: string | undefined;
  readonly option: ReadonlyMap<string, string>;
  readonly samples: string | undefined;
  readonly port: string | undefined;
  readonly to: string | undefined;
  readonly pass: string | undefined;
  readonly mark: ReadonlyMap<string, string>;
  readonly reissue: boolean;
  readonly plan: string | undefined;
  readonly json: boolean;
  readonly quiet: boolean;
  readonly help: boolean;
  readonly version: boolean;
}

export type OptionName = keyof OptionValues;

/** `switch` takes no value; `text` one, given once; `texts` one each time; `pairs` a key=value each time. */
export type OptionKind = "switch" | "text" | "texts" | "pairs";

export interface OptionEntry<Kind extends OptionKind = OptionKind> {
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
  p: { kind: "text", value: "PPM", about: "soil test P, elemental ppm" },
  "p-method": { kind: "text", value: "METHOD", about: "its extractant, such as mehlich-3-icp or bray-p1" },
  k: { kind: "text", value: "PPM", about: "soil test K, elemental ppm" },
  "k-method": { kind: "text", value: "METHOD", about: "its extractant, ammonium-acetate or mehlich-3" },
  cec: { kind: "text", value: "MEQ", about: "cation exchange capacity, meq/100 g" },
  option: { kind: "pairs", value: "KEY=VALUE", about: "what the guide wants to know; may be repeated" },
  samples: { kind: "text", value: "FILE", about: "lab table (CSV): the need of every sample" },
  port: { kind: "text", value: "N", about: "port of this computer to serve the page on; 0 for any free one" },
  to: { kind: "text", value: "FOLDER", about: "the stick, or a folder on it" },
  pass: { kind: "text", value: "PASS", about: "strip (the usual) or broadcast: a stick is for one machine" },
  mark: {
    kind: "pairs",
    value: "FIELD=STATE",
    about: "mark a field as loaded, done or open; may be repeated",
  },
  reissue: { kind: "switch", value: "", about: "write fields again that are marked as loaded or done" },
  plan: { kind: "text", value: "PLAN", about: "the plan as it is now, to see whether the set is older" },
  json: { kind: "switch", value: "", about: "print the result, the error or the questions as JSON" },
  quiet: { kind: "switch", value: "", about: "no talk and no progress; errors still show" },
  help: { kind: "switch", value: "", about: "show this and stop" },
  version: { kind: "switch", value: "", about: "print the version and stop" },
};

/** Options that every verb takes. */
export const commonOptions: readonly OptionName[] = ["json", "quiet", "help", "version"];
