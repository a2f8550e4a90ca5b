import { InputError, type Notice } from "../../errors/index.ts";
import { WHOLE_SHARE } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import { acresToLay } from "../maps/kept-off-notices.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { AppliedField, AppliedProduct, LackingLog } from "./applied-types.ts";

/** A piece that a log covers by more than this is in it (ours). */
const COVERED_SHARE = 0.5;
/** A pass of which so much lacks, of what another log covers, is one that a file may lack (ours). */
const LACKING_SHARE = 0.25;

/**
 * Products whose log has no reading, not even of rate 0, on ground that the log of another product covers and that their own
 * map has pounds for, where that is more than the ledger lets pass for stripped. One rig lays all its products at once: a
 * file of such a log may lack, and its pounds would count as missing.
 */
export function lackingLogs(
  { prescriptions, passes }: FieldResult,
  products: readonly Pick<AppliedProduct, "product" | "stem" | "skippedShare">[],
): LackingLog[] {
  const { pieces, areaAc } = passes;
  const least = (1 - WHOLE_SHARE) * acresToLay(passes);
  return products.flatMap(({ product, stem, skippedShare }) => {
    const { rateLbPerAc } = prescriptions.find((map) => map.stem === stem)!;
    const others = products.filter((one) => one.product !== product);
    const openElsewhere = (k: number): number => Math.min(1, ...others.map((one) => one.skippedShare[k]!));
    const ofPieces = pieces.map(({ keptOff }, k) => {
      if (keptOff === true || !(rateLbPerAc[k]! > 0)) return 0;
      const open = openElsewhere(k);
      const isLacking = 1 - skippedShare[k]! <= COVERED_SHARE && 1 - open > COVERED_SHARE;
      return isLacking ? areaAc[k]! * Math.max(0, skippedShare[k]! - open) : 0;
    });
    // A file lacks stretches of work; readings that lack at the ends of each pass are how seldom the log was written.
    const [lacksOfRun, coveredOfRun] = [passes.runs.map(() => 0), passes.runs.map(() => 0)];
    pieces.forEach(({ run }, k) => {
      lacksOfRun[run]! += ofPieces[k]!;
      coveredOfRun[run]! += areaAc[k]! * (1 - openElsewhere(k));
    });
    const lacksAc = ofPieces.map((ac, k) => {
      const { run } = pieces[k]!;
      return lacksOfRun[run]! > LACKING_SHARE * coveredOfRun[run]! ? ac : 0;
    });
    const ac = sum(lacksAc);
    if (ac <= least) return [];
    const beside = others.filter(({ skippedShare: open }) =>
      lacksAc.some((lacks, k) => lacks > 0 && 1 - open[k]! > COVERED_SHARE),
    );
    const lb = sum(lacksAc.map((lacks, k) => lacks * rateLbPerAc[k]!));
    return [{ product, areaAc: ac, lb, beside: beside.map((one) => one.product) }];
  });
}

/**
 * The doubts, a product each, that stand above all else that is worked out of such logs. `isFinished`: the ledger says so, and
 * the catch-up is made all the same; `leftAc`: acres that are to be driven yet, before anything is finished.
 */
export function logsLacking(
  { field, checked }: FieldResult,
  lacking: readonly LackingLog[],
  isFinished: boolean,
  leftAc: number,
): Notice[] {
  const first =
    leftAc > 0
      ? `${leftAc.toFixed(1)} of ${checked.areaAc.toFixed(1)} ac are not driven yet: go on with \`remainder\` first. On ground that is driven `
      : "";
  const then = leftAc > 0 ? ", and once the whole field is driven" : ", then";
  return lacking.map(({ product, areaAc, lb, beside }) => {
    const logs = `the log${beside.length === 1 ? "" : "s"} of ${beside.join(" and ")} cover${beside.length === 1 ? "s" : ""}`;
    const onward = isFinished
      ? "without it the catch-up lays these pounds, a second time where they were laid"
      : `without it the catch-up would lay these pounds a second time. Where its bin was shut or empty there, enter what was laid (--into-ledger)${then} \`ledger --finish ${field.id}\`, and the catch-up brings them`;
    return {
      code: "log-lacks-ground",
      message: `${field.name}: ${first}the log of ${product} has no reading, not even of rate 0, on ${numberText(areaAc, 1)} ac that ${logs}, ${numberText(lb, 0)} lb by its map. One rig lays all at once: a file of this log may lack. Give it as well, with --log ${product}=FILE; ${onward}`,
      where: field.id,
    };
  });
}

/** Throws `log-lacks-ground` where a product's log ends before another's and the ledger does not have the pass as finished. */
export function requireWholeLogs({ lacking, notices }: Pick<AppliedField, "lacking" | "notices">): void {
  const notice = notices.find(({ code }) => code === "log-lacks-ground");
  if (notice === undefined || lacking.length === 0) return;
  throw new InputError(
    "log-lacks-ground",
    notice.message,
    "No catch-up map was written; the balance can be looked at all the same.",
  );
}
