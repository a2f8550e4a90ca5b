import type { ComponentChildren } from "preact";
import type { Trouble } from "../engine/protocol.ts";
import { withoutKeys } from "../state/key-places.ts";
import { KeyPlaces } from "./key-places.tsx";

interface TroubleWordsProps {
  readonly of: Trouble;
  /** In place of the remedy in words: its ways, to be pressed. */
  readonly children?: ComponentChildren;
}

/** What is wrong, what to do, and where on the page that is given. */
export const TroubleWords = ({ of: { message, remedy }, children }: TroubleWordsProps) => (
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
