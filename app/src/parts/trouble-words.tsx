import type { ComponentChildren } from "preact";
import type { Trouble } from "../engine/protocol.ts";
import { withoutKeys } from "../state/key-places.ts";
import { KeyPlaces } from "./key-places.tsx";

interface TroubleWordsProps {
  readonly of: Trouble;
  /** In place of the remedy in words: its ways, to be pressed. */
  readonly children?: ComponentChildren;
}

/** What to do on the page where the remedy names what the command line takes. */
const PAGE_REMEDIES: Readonly<Record<string, string>> = {
  "nothing-to-write": "Tick “Write loaded, done and stripped fields again too” to write them all the same.",
  "field-stripped": "Tick “Write loaded, done and stripped fields again too” to write them all the same.",
  "product-of-log": "Name the products in the log as the plan does, or choose another log.",
};

/** What is wrong, what to do, and where on the page that is given. */
export const TroubleWords = ({ of, children }: TroubleWordsProps) => {
  const { message } = of;
  const remedy = PAGE_REMEDIES[of.code] ?? of.remedy;
  return (
    <>
      <p>
        <b>{withoutKeys(message)}</b>
      </p>
      {children || (
        <>
          <p>{withoutKeys(remedy)}</p>
          <KeyPlaces words={`${message} ${remedy}`} />
        </>
      )}
    </>
  );
};
