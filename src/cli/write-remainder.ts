import { oneWord } from "../errors/index.ts";
import { standingEntries } from "../ledger/index.ts";
import {
  beyondMapOnLeftLb,
  type FieldResult,
  isZeroRateTold,
  type Plan,
  type RemainderOfField,
  wantedForms,
  withCare,
  withMaps,
  type ZeroRate,
  zeroRateOf,
} from "../plan/index.ts";
import { remainderFiles, toDelete } from "../publish/index.ts";
import { acresText, loadOrder, saltDoubt } from "../report/index.ts";
import { capital, numberText } from "../units/index.ts";
import type { Call } from "./command.ts";
import { nextTurn } from "./next-turn.ts";
import { planFiles } from "./open-plan.ts";
import { writeOut } from "./out-folder.ts";
import type { WorkedPlan } from "./run-plan.ts";
import { toolVersion } from "./version.ts";
import { lostWords } from "./words/remainder-words.ts";

/** What the controller makes of a rate 0; null where nobody has said it and no other form is written. Asks as `build` does. */
function remainderZeroRate(call: Call, plan: Plan): ZeroRate | null {
  const answers = Object.fromEntries(call.options.answer);
  const isTold = isZeroRateTold(plan.controller, answers);
  return isTold || wantedForms(plan).length > 0 ? zeroRateOf(plan.controller, answers) : null;
}

/** What ground at 0 means for this controller, in words for the cab. */
function workedGroundWords(workedAc: number, zeroRate: ZeroRate | null): string {
  const worked = `${acresText(workedAc)} ac that are worked`;
  if (zeroRate === null) {
    return `${worked} have 0 in these files: make sure that the controller stops at 0 (the plan does not say; controller.zeroRate)`;
  }
  if (zeroRate.does === "small") {
    return `${worked} have ${zeroRate.lbPerAc} lb/ac in the fallback, which this controller needs in place of 0: stop the meters by hand there`;
  }
  return zeroRate.does === "off"
    ? `${worked} have 0 in these files: the meters stop there`
    : `${worked} have 0 in these files, which this controller takes for no data: set its default rate to 0, or it lays that a second time`;
}

/** What the fallbacks lay on the ground that is left beyond the maps, a sentence; none where a 0 stays 0. */
function smallRateOnLeft(
  { prescriptions, areaAc }: RemainderOfField,
  field: FieldResult,
  zeroRate: ZeroRate | null,
): string[] {
  if (zeroRate?.does !== "small") return [];
  const { lbPerAc } = zeroRate;
  const more = prescriptions.flatMap((map) => {
    const lb = beyondMapOnLeftLb(field, map, areaAc, lbPerAc);
    return lb < 0.5 ? [] : [`${numberText(lb, 0)} lb of ${map.product}`];
  });
  return more.length === 0
    ? []
    : [
        `On what is left the fallback lays ${more.join(" and ")} more than the map, by ${lbPerAc} lb/ac in place of 0.`,
      ];
}

/**
 * Writes a field's remainder into a folder of its own, read back, whole or not at all: the maps in every form that the controller
 * loads, and the fallback where it needs one, with a cab sheet. `before`: what has to be done before that. Lines on what to load.
 */
export async function writeRemainder(
  call: Call,
  out: string,
  { source, result }: WorkedPlan,
  made: RemainderOfField,
  done: string,
  before: readonly string[],
): Promise<string[]> {
  const zeroRate = remainderZeroRate(call, result.plan);
  const maps = new Map([[made.fieldId, made.prescriptions]]);
  const { plan } = result;
  // A set that no stick would take helps nobody: the fallback is written where zeros or polygons may be refused.
  const needsFallback =
    zeroRate?.does === "small" ||
    [plan.controller?.mostPolygons, plan.controller?.mostVertices, plan.controller?.mostBytes].some(
      (most) => most !== undefined,
    );
  const extras = new Set([...(plan.extras ?? []), ...(needsFallback ? (["fallback"] as const) : [])]);
  const asked = {
    ...result,
    plan: extras.size === 0 ? plan : { ...plan, extras: [...extras] },
    fields: result.fields.map((one) => (one.field.id === made.fieldId ? withCare(one, made.care) : one)),
  };
  const written = await withMaps(asked, maps, nextTurn, zeroRate ?? undefined);
  const [field] = written.fields;
  const { workedAc, areaAc } = made.remainder;
  const worked = workedGroundWords(workedAc, zeroRate);
  const coat = lostWords(made.instead);
  // After a change of product other maps may be on the display than the plan has now.
  const loaded = standingEntries(result.ledger.entries).flatMap((entry) =>
    entry.kind === "loaded" && entry.fieldId === made.fieldId ? [entry.map] : [],
  );
  const { what, onStick } = toDelete(plan, result.fields[0]!, "strip", loaded);
  const said = [
    ...before.map((words) => `${words}.`),
    `Remainder ${done}: ${acresText(areaAc)} ac are left. Delete ${what} from the display first${onStick}.`,
    `${capital(worked)}.`,
    ...coat.map((line) => `${line}.`),
    ...smallRateOnLeft(made, field!, zeroRate),
    ...(plan.fields.length === 1
      ? []
      : [
          "A stick of these maps is for this field alone: before the next field write it again from the build, with --field for those to come.",
        ]),
  ];
  const salt = saltDoubt(made.care);
  const files = remainderFiles(written, toolVersion(), await planFiles(source, plan), {
    done,
    said: salt === null ? said : [...said, `${salt}.`],
    leftAc: areaAc,
    areaAc: made.areaAc,
  });
  await writeOut(call, out, files);
  const { steps, doubts } = loadOrder(asked.plan, field!, "strip");
  const names = steps[0]?.files.map(({ name }) => name) ?? [];
  return [
    `${made.prescriptions.length} strip maps in ${out}, with a cab sheet${names.length === 0 ? "" : `; to load first: ${[...new Set(names)].join(", ")}`}.`,
    ...said.slice(before.length).filter((line) => !coat.includes(line.slice(0, -1))),
    ...doubts.map((doubt) => `${doubt}.`),
    `For a stick: bermplan stick ${oneWord(out)} --to FOLDER`,
  ];
}
