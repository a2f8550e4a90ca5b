import type { Notice } from "../errors/index.ts";
import type { Guide } from "./types.ts";

/** Who compared a guide's figures with which bulletin page on which date. */
export interface GuideConfirmation {
  readonly by: string;
  readonly page: string;
  /** YYYY-MM-DD. */
  readonly date: string;
}

/**
 * `own`: the user's own figures. `unconfirmed`: some figure is from memory and nobody has entered a comparison.
 * `confirmed`: somebody has. `read`: every figure was read in a source or follows from such.
 */
export type GuideStatus = "own" | "unconfirmed" | "confirmed" | "read";

/** `own` when every figure was typed, `confirmed` when somebody compared it, `unconfirmed` when a figure is from memory, else `read`. */
export function guideStatus(guide: Guide, confirmation?: GuideConfirmation): GuideStatus {
  const statuses = Object.values(guide.constants).map((constant) => constant.status);
  if (statuses.length > 0 && statuses.every((status) => status === "typed")) return "own";
  if (confirmation !== undefined) return "confirmed";
  const recalled = statuses.includes("from memory") || guide.depthStatus === "from memory";
  return recalled || guide.rounding.status === "from memory" ? "unconfirmed" : "read";
}

/** Ids of the figures from memory among those given, or in the whole guide. */
export function recalledConstants(guide: Guide, ids?: readonly string[]): string[] {
  return [...new Set(ids ?? Object.keys(guide.constants))].filter(
    (id) => guide.constants[id]?.status === "from memory",
  );
}

/** Superseded, unconfirmed, overridden: what a reader of a rate must know about the guide behind it. */
export function guideNotices(
  guide: Guide,
  constants: readonly string[],
  confirmation?: GuideConfirmation,
): Notice[] {
  const notices: Notice[] = [];
  if (guide.supersededBy !== null) {
    notices.push({
      code: "guide-superseded",
      message: `${guide.title} (${guide.edition}) is superseded by ${guide.supersededBy}`,
      where: guide.id,
    });
  }
  const recalled = recalledConstants(guide, constants);
  if (recalled.length > 0 && confirmation === undefined) {
    notices.push({
      code: "guide-unconfirmed",
      message: `unconfirmed: ${recalled.length} of the figures used of ${guide.title} ${recalled.length === 1 ? "is" : "are"} from memory (${recalled.join(", ")}); compare with the bulletin`,
      where: guide.id,
    });
  }
  const used = new Set(constants);
  const overridden = Object.entries(guide.constants).filter(
    ([id, constant]) => used.has(id) && constant.published !== undefined,
  );
  if (overridden.length > 0) {
    notices.push({
      code: "guide-overridden",
      message: `figures of ${guide.title} replaced by the user: ${overridden.map(([id, constant]) => `${id} ${constant.value} (guide ${constant.published})`).join(", ")}`,
      where: guide.id,
    });
  }
  return notices;
}
