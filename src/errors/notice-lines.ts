import type { Notice } from "./notice.ts";

/** Lines of one kind that are shown. */
const SHOWN = 3;

/**
 * Notices as lines: one that several fields or files share is said once, and of one kind three stand for the rest;
 * `allIn` says where the others are, such as `all are in result.json`.
 */
export function noticeLines(notices: readonly Notice[], allIn: string): string[] {
  const byCode = new Map<string, Map<string, number>>();
  for (const { code, message } of notices) {
    const counts = byCode.get(code) ?? new Map<string, number>();
    counts.set(message, (counts.get(message) ?? 0) + 1);
    byCode.set(code, counts);
  }
  return [...byCode].flatMap(([code, counts]) => {
    const lines = [...counts].map(([message, count]) =>
      count > 1 ? `Notice: ${message} (${count} times)` : `Notice: ${message}`,
    );
    const more = lines.length - SHOWN;
    return more > 0
      ? [...lines.slice(0, SHOWN), `Notice: ${more} more of the kind “${code}”; ${allIn}.`]
      : lines;
  });
}
