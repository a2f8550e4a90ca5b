import { cautionsInWords } from "#core";
import { Fold } from "../parts/fold.tsx";

/** The cautions that hold wherever the product goes, each with where it holds and how it is known. */
export function TakeCare() {
  return (
    <Fold class="small" title="Take care">
      {() => (
        <>
          <p>
            Nothing here certifies that a place or a day is allowed. Local codes, the product's label and your
            licensed adviser go before these sheets.
          </p>
          <ul>
            {cautionsInWords().map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      )}
    </Fold>
  );
}
