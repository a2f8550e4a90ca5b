import type { AppliedLog } from "../../formats/index.ts";

/** Several files of a product as one log, in the order in which they were driven where all tell their times. */
export function logsAsOne(parts: readonly AppliedLog[]): AppliedLog {
  const [only, ...more] = parts;
  if (only !== undefined && more.length === 0) return only;
  const began = (log: AppliedLog): number => Date.parse(log.points[0]?.time ?? "");
  const inOrder = parts.some((log) => Number.isNaN(began(log)))
    ? parts
    : parts.toSorted((one, two) => began(one) - began(two));
  let passes = 0;
  let files = 0;
  const points = inOrder.flatMap((log) => {
    const [shift, before] = [passes, files];
    passes += (log.points.at(-1)?.pass ?? -1) + 1;
    files += 1 + log.points.reduce((last, { part = 0 }) => Math.max(last, part), 0);
    return log.points.map((point) => ({
      ...point,
      pass: point.pass + shift,
      part: (point.part ?? 0) + before,
    }));
  });
  return { ...inOrder[0]!, points };
}
