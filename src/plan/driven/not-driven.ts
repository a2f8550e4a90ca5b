import type { Notice } from "../../errors/index.ts";
import { acresGoneOver, type LedgerEntry, stripEntries, WHOLE_SHARE } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { acresToLay } from "../maps/kept-off-notices.ts";
import type { FieldResult } from "../results/result-types.ts";

/** A pass with less of it covered was not driven (ours). */
const DRIVEN_SHARE = 0.5;
/** Single passes left out between driven ones are skips, up to so much of the field in all (ours). */
const SINGLE_IN_ALL = 0.1;

/** A pass in working order, the parts of it that follow each other together. */
interface DrivenPass {
  readonly name: string;
  readonly areaAc: number;
  readonly openAc: number;
  readonly isLeft: boolean;
}

/**
 * Acres that no log covers of the passes that were not driven, where the strip pass is not finished: where those of them that
 * lie at an end of the work, or next to each other, have more open than the ledger lets pass for stripped; single ones between
 * driven passes count as skips until they are a tenth. 0 where it is finished, or there is no log. `skipped`: a list a
 * logged product, by the pieces.
 */
export function notDrivenAc(passes: FieldResult["passes"], skipped: readonly Float64Array[]): number {
  if (skipped.length === 0) return 0;
  const worked = inPasses(passes, skipped);
  const all = sum(worked.map(({ areaAc }) => areaAc));
  const open = (which: (pass: DrivenPass, k: number) => boolean): number =>
    sum(worked.filter((pass, k) => pass.isLeft && which(pass, k)).map(({ openAc }) => openAc));
  const isSingle = (k: number): boolean => worked[k - 1]?.isLeft === false && worked[k + 1]?.isLeft === false;
  const together = open((_, k) => !isSingle(k));
  const single = open((_, k) => isSingle(k));
  return together > (1 - WHOLE_SHARE) * all || single > SINGLE_IN_ALL * all ? together + single : 0;
}

/**
 * The same by the ledger, where no log tells it: acres that its lines leave of a strip pass whose pounds, `typed`, are those that
 * the lines have. 0 where they have none, or where more is typed than they have: then the pounds are of more ground.
 */
export function notEnteredAc(
  { field, passes, prescriptions }: FieldResult,
  ledger: readonly LedgerEntry[],
  typed: readonly { readonly product: string; readonly lb: number }[],
): number {
  const lines = stripEntries(ledger, field.id);
  const enteredLb = (product: string): number =>
    sum(lines.filter((line) => line.product === product).map(({ lb }) => lb));
  const mapped = prescriptions.filter(({ pass }) => pass === "strip").map(({ product }) => product);
  const [doneAc, allAc] = [acresGoneOver(lines, mapped), acresToLay(passes)];
  if (doneAc === 0 || doneAc >= WHOLE_SHARE * allAc) return 0;
  // Scale and log of the same work differ; half way, in times, to what as much more ground would take it is more ground.
  const isOfMore = typed.some(({ product, lb }) => {
    const entered = enteredLb(product);
    return entered > 0 && lb > Math.sqrt(allAc / doneAc) * entered;
  });
  return isOfMore ? 0 : allAc - doneAc;
}

/** Notice that the strip pass is not finished, `leftAc` acres: catch-up maps of ground yet to be stripped would bring its product twice. */
export const notFinished = ({ field, checked }: FieldResult, leftAc: number): Notice => ({
  code: "strip-not-finished",
  message: `${field.name}: the strip pass is not finished: ${leftAc.toFixed(1)} of ${checked.areaAc.toFixed(1)} ac are not driven yet, and the catch-up counts all their need as missing; go on with \`remainder\`, or, where they stay unstripped, \`ledger --finish ${field.id}\` first`,
  where: field.id,
});

/**
 * Notice where the catch-up feeds more skipped acres than the ledger lets pass for stripped: by it they are still to be
 * stripped, so that they would be fed twice. Ground that is kept off is neither. None without a log.
 */
export function skipsStillPlanned(
  { field, passes }: FieldResult,
  products: readonly { readonly coveredAc: number }[],
): readonly Notice[] {
  if (products.length === 0) return [];
  const toLayAc = acresToLay(passes);
  const openAc = toLayAc - Math.max(...products.map(({ coveredAc }) => coveredAc));
  if (openAc <= (1 - WHOLE_SHARE) * toLayAc) return [];
  const message = `${field.name}: ${openAc.toFixed(1)} of ${toLayAc.toFixed(1)} ac are skipped: the catch-up feeds them, and the ledger counts the field as part stripped, to be stripped there as well; enter it as finished with \`ledger --finish ${field.id}\` where the catch-up is spread, or strip them with \`remainder\` and give all logs then`;
  return [{ code: "skips-still-planned", message, where: field.id }];
}

function inPasses(passes: FieldResult["passes"], skipped: readonly Float64Array[]): DrivenPass[] {
  const areaAc = passes.runs.map(() => 0);
  const openAc = passes.runs.map(() => 0);
  passes.pieces.forEach(({ run, keptOff }, k) => {
    if (keptOff === true) return;
    const area = passes.areaAc[k]!;
    areaAc[run]! += area;
    // One rig lays all its products: what was driven shows in the log of any.
    openAc[run]! += area * Math.min(1, ...skipped.map((share) => share[k]!));
  });
  const list: DrivenPass[] = [];
  passes.runs.forEach(({ kind, pass }, r) => {
    if (!(areaAc[r]! > 0)) return;
    const name = `${kind} ${pass}`;
    const part = { name, areaAc: areaAc[r]!, openAc: openAc[r]! };
    const isLeft = part.openAc > (1 - DRIVEN_SHARE) * part.areaAc;
    const before = list.at(-1);
    if (before?.name !== name || before.isLeft !== isLeft) list.push({ ...part, isLeft });
    else {
      const [area, open] = [before.areaAc + part.areaAc, before.openAc + part.openAc];
      list[list.length - 1] = { name, areaAc: area, openAc: open, isLeft };
    }
  });
  return list;
}
