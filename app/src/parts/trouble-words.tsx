import type { Trouble } from "../engine/protocol.ts";
import { KeyPlaces } from "./key-places.tsx";

/** What is wrong, what to do, and where on the page that is given. */
export const TroubleWords = ({ of: { message, remedy } }: { readonly of: Trouble }) => (
  <>
    <p>
      <b>{message}</b>
    </p>
    <p>{remedy}</p>
    <KeyPlaces words={`${message} ${remedy}`} />
  </>
);
