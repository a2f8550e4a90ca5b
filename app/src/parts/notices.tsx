import type { Notice } from "#core";
import { isDoubt } from "../state/doubt-or-remark.ts";
import { withoutKeys } from "../state/key-places.ts";
import { KeyPlaces } from "./key-places.tsx";

/** Doubts to deal with; each stands until it is. Many of one kind are folded. */
export function Notices({ notices }: { notices: readonly Notice[] }) {
  const byCode = new Map<string, Notice[]>();
  for (const notice of notices) byCode.set(notice.code, [...(byCode.get(notice.code) ?? []), notice]);
  return (
    <>
      {[...byCode].map(([code, alike]) => (
        <div class={isDoubt(alike[0]!) ? "doubt" : "remark"} key={code}>
          <p>{withoutKeys(alike[0]!.message)}</p>
          <KeyPlaces words={alike[0]!.message} where={alike[0]!.where} />
          {alike.length > 1 && (
            <details>
              <summary>{alike.length - 1} more of this kind</summary>
              <ul>
                {alike.slice(1).map((notice) => (
                  <li key={`${notice.where} ${notice.message}`}>{withoutKeys(notice.message)}</li>
                ))}
              </ul>
            </details>
          )}
        </div>
      ))}
    </>
  );
}
