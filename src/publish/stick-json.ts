import type { ZeroRate } from "../plan/index.ts";
import type { LoadForm } from "../report/index.ts";
import type { StickPass } from "./no-sticks.ts";

/** Where a stick says what it is; it is in the manifest like any other file. */
export const stickPath: string = "stick.json";

/** A map on a stick. */
export interface StickMap {
  readonly field: string;
  readonly stem: string;
  readonly bin: string;
  readonly product: string;
  readonly name: string;
  readonly revision: string;
  readonly totalLb: number;
  /** What to load first; absent in what an earlier version wrote. */
  readonly load?: LoadFirst;
  readonly files: readonly string[];
  /** Its field is marked and so was not written again, and the build's map is another: these files are an earlier plan's. */
  readonly ofEarlierPlan?: true;
}

/** Names of the cab sheets that came with maps of an earlier plan and hold for them, each once. */
export const sheetsOfEarlier = (maps: readonly StickMap[]): readonly string[] => [
  ...new Set(maps.flatMap(({ ofEarlierPlan, revision }) => (ofEarlierPlan ? [`CAB_${revision}.html`] : []))),
];

/** The form of a map to load first: path on the stick without its ending, or the name of the task in TASKDATA. */
export interface LoadFirst {
  readonly form: LoadForm;
  readonly name: string;
  readonly totalLb: number;
  /** On the field's ground. */
  readonly minLbPerAc: number;
  /** Acres of holes with rate 0 in it; left out where there are none. */
  readonly holesAc?: number;
  /** Acres of the field's own that are kept clear and have rate 0 in it, where no other ground may have a 0; left out where there are none. */
  readonly keptClearAc?: number;
}

/** stick.json. */
export interface Stick {
  readonly format: "stick/1";
  readonly plan: string;
  /** `planHash` of the plan it was made from. */
  readonly planHash: string;
  readonly pass: StickPass;
  readonly revision: string;
  readonly revisionNumber: number;
  readonly zeroRate: ZeroRate;
  readonly maps: readonly StickMap[];
  /** What was left out because it has a rate 0, which this controller must not get: names as they would be on the stick. */
  readonly neverLoad?: readonly string[];
}
