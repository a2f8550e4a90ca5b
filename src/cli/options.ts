/**
 * Every option of every verb, so that a flag means one thing everywhere. To add one: a line in
 * `OptionValues`, a line in `optionTable`, and its name in the `options` of the verbs that take it.
 */
export interface OptionValues {
  readonly out: string | undefined;
  readonly overwrite: boolean;
  readonly field: readonly string[];
  readonly answer: ReadonlyMap<string, string>;
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
  json: { kind: "switch", value: "", about: "print the result, the error or the questions as JSON" },
  quiet: { kind: "switch", value: "", about: "no talk and no progress; errors still show" },
  help: { kind: "switch", value: "", about: "show this and stop" },
  version: { kind: "switch", value: "", about: "print the version and stop" },
};

/** Options that every verb takes. */
export const commonOptions: readonly OptionName[] = ["json", "quiet", "help", "version"];
