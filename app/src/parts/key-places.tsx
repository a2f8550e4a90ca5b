import { type KeyPlace, keysIn, placeOfKey, withoutKeys } from "../state/key-places.ts";
import { plan } from "../state/opened.ts";
import { goTo, here } from "../state/route.ts";
import { titleOf } from "./sheets.ts";

interface KeyPlacesProps {
  readonly words: string;
  readonly where?: string;
}

/** For every key of the plan that a message names, where to give it: a sheet one press away, or the plan file. */
export function KeyPlaces({ words, where = "" }: KeyPlacesProps) {
  const isField = plan.value?.fields.some(({ id }) => id === where);
  const byPlace = new Map<string, { readonly place: KeyPlace | null; readonly keys: string[] }>();
  for (const key of keysIn(words, isField ? "" : where)) {
    const place = placeOfKey(key);
    if (place === undefined) continue;
    const name = place ? `${place.sheet} ${place.under}` : "";
    byPlace.set(name, { place, keys: [...(byPlace.get(name)?.keys ?? []), key] });
  }
  return (
    <>
      {[...byPlace.values()].map(({ place, keys }) => (
        <p class="small" key={keys.join()}>
          {place ? (
            <Way place={place} />
          ) : (
            <>
              In the plan file: save it, unpack the zip, type it in plan.json, drop the unpacked folder here
            </>
          )}
          {place && withoutKeys(words) !== words ? "" : ` (${keys.join(", ")})`}
        </p>
      ))}
    </>
  );
}

function Way({ place: { sheet, under } }: { readonly place: KeyPlace }) {
  const where = under === "" ? "" : `, “${under}”`;
  if (here.value.sheet === sheet) return <>Give it on this sheet{where}</>;
  return (
    <button type="button" class="link" onClick={() => goTo({ sheet, field: here.value.field })}>
      Give it on {titleOf(sheet)}
      {where}
    </button>
  );
}
