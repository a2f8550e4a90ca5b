import { InputError } from "../../errors/index.ts";
import type { AppliedField } from "./applied-types.ts";
import { requireWholeLogs } from "./lacking-logs.ts";
import { requireAllLogs, requireWeighed } from "./missing-logs.ts";

/** What a catch-up waits for: logs that were not given, pounds on which they and the ledger agree, or the rest of the strip pass. */
export type WaitsFor = "logs" | "pounds" | "pass";

/** What the catch-up waits for first; null where it is to be used. */
export function waitsFor({
  notDrivenAc,
  missing,
  otherPounds,
  lacking,
}: Pick<AppliedField, "notDrivenAc" | "missing" | "otherPounds" | "lacking">): WaitsFor | null {
  if (missing.length > 0) return "logs";
  if (otherPounds.length > 0) return "pounds";
  if (notDrivenAc > 0) return "pass";
  return lacking.length > 0 ? "logs" : null;
}

/** Whether the catch-up is not to be used yet. */
export const isHeldBack = (applied: Parameters<typeof waitsFor>[0]): boolean => waitsFor(applied) !== null;

/**
 * Catch-up maps take the place of the planned ones: they are for a strip pass that is done, and for all its logs. Of a
 * build, whose ledger is a copy that takes no finish, it says where the finish counts. Throws `logs-missing`, `logs-weighed`,
 * `log-lacks-ground`, `strip-not-finished`.
 */
export function requireStripFinished(
  { lacking, notices }: Pick<AppliedField, "lacking" | "notices">,
  isBuild = false,
): void {
  requireAllLogs(notices, "No catch-up map was written.");
  requireWeighed(notices);
  requireWholeLogs({ lacking, notices });
  const notice = notices.find(({ code }) => code === "strip-not-finished");
  if (notice === undefined) return;
  throw new InputError(
    "strip-not-finished",
    notice.message,
    `No catch-up map was written; the balance can be looked at all the same.${isBuild ? ` ${FINISH_OF_A_BUILD}` : ""}`,
  );
}

const FINISH_OF_A_BUILD =
  "PLAN is a build, whose ledger takes no finish: enter it in the plan's own ledger and give the plan's folder as PLAN; where its product was changed since, put the product back in its plan.json, run `applied`, then change it again.";

/** Throws `catch-up-laid` where the ledger has as spread all that is still missing: no map is to be written again. */
export function requireCatchUps(applied: readonly Pick<AppliedField, "catchUp" | "notices">[]): void {
  if (applied.some(({ catchUp }) => catchUp.prescriptions.length > 0)) return;
  const laid = applied.flatMap(({ notices }) => notices.filter(({ code }) => code === "catch-up-laid"));
  if (laid.length === 0) return;
  throw new InputError(
    "catch-up-laid",
    laid.map(({ message }) => message).join("; "),
    "No catch-up map was written.",
  );
}
