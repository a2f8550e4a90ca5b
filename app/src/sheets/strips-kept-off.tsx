import { numberText, type Plan, type PlanExclusion } from "#core";
import type { LonLat } from "../engine/protocol.ts";
import { ChoiceLine } from "../parts/choice-line.tsx";
import { DraftInput } from "../parts/draft-input.tsx";
import { NeededLine } from "../parts/figure-line.tsx";
import { typedNumber } from "../parts/take-number.ts";
import {
  addCorner,
  beginDrawing,
  change,
  type Drawing,
  drawing,
  dropCorner,
  moveCorner,
} from "../state/drawing.ts";
import { withExclusion, withoutExclusion } from "../state/drive-edits.ts";
import { area, words } from "../state/figures.ts";
import { edit, readOnly } from "../state/opened.ts";
import { field, pointed } from "../state/results.ts";
import { PLACE_WANTED, placeFrom, placeText } from "./strips-drive.tsx";

const METHODS = [
  ["strip", "the strip"],
  ["surface", "the spreader"],
  ["both", "both"],
] as const;

/** Ground that gets nothing: of files or drawn, with method and setback; drawing by taps or by typing corners. */
export function KeptOff({ of }: { readonly of: Plan }) {
  const draft = drawing.value;
  const all = of.exclusions ?? [];
  const keptAc = field.value?.need.excluded.areaAc;
  return (
    <section aria-label="Ground kept off">
      <h3>Kept off</h3>
      {all.length === 0 && <p class="small">No setbacks entered, none respected.</p>}
      {all.length > 0 && keptAc && (
        <p class="small">
          {area(keptAc.strip)} {words().area} from the strip, {area(keptAc.surface)} {words().area} from the
          spreader. Beside it the whole width of a pass gets nothing.
        </p>
      )}
      {all.map((one, k) => (
        <Exclusion key={`${k} ${one.what}`} of={of} one={one} place={k} />
      ))}
      {draft ? (
        <Draft of={of} draft={draft} />
      ) : (
        <button type="button" disabled={readOnly.value || !field.value} onClick={beginDrawing}>
          Draw ground to keep off
        </button>
      )}
    </section>
  );
}

interface ExclusionProps {
  readonly of: Plan;
  readonly one: PlanExclusion;
  readonly place: number;
}

function Exclusion({ of, one, place }: ExclusionProps) {
  const { corners, what } = one;
  return (
    <div class="kept-off">
      <div class="pair">
        <b>{what}</b>
        <span class="second">{one.source ?? `drawn, ${corners?.length ?? 0} corners`}</span>
      </div>
      <ChoiceLine
        label="Keeps off"
        about={`What ${what} keeps off`}
        value={one.method}
        options={METHODS}
        onChoose={(method) => edit(withExclusion(of, { ...one, method }, place))}
        disabled={readOnly.value}
      />
      <dl class="lines">
        <NeededLine
          label="Setback"
          unit="ft"
          value={one.setbackFt}
          step={1}
          onTake={(setbackFt) => edit(withExclusion(of, { ...one, setbackFt }, place))}
        />
      </dl>
      <div class="actions">
        {corners && (
          <button
            type="button"
            disabled={readOnly.value || drawing.value !== null}
            onClick={() => {
              drawing.value = {
                corners: corners.map(({ lonDeg, latDeg }): LonLat => [lonDeg, latDeg]),
                what,
                method: one.method,
                setbackFt: String(one.setbackFt),
                place,
              };
            }}
          >
            Change corners of {what}
          </button>
        )}
        <button type="button" disabled={readOnly.value} onClick={() => edit(withoutExclusion(of, place))}>
          Take out {what}
        </button>
      </div>
    </div>
  );
}

function Draft({ of, draft }: { readonly of: Plan; readonly draft: Drawing }) {
  const { corners, what, method, setbackFt, place } = draft;
  const setback = typedNumber(setbackFt);
  const isFit = corners.length >= 3 && what.trim() !== "" && Number.isFinite(setback) && setback >= 0;
  const keep = () => {
    const exclusion: PlanExclusion = {
      corners: corners.map(([lonDeg, latDeg]) => ({ lonDeg, latDeg })),
      what: what.trim(),
      method,
      setbackFt: setback,
    };
    edit(withExclusion(of, exclusion, place));
    drawing.value = null;
  };
  const at = pointed.value?.at;
  return (
    <fieldset class="draft">
      <legend>Corners, all round</legend>
      <p class="small second">
        Tap them on the plat, or move the read-out with the arrow keys and set a corner there, or type
        latitude, longitude.
      </p>
      <ol>
        {corners.map((corner, k) => (
          <li key={k}>
            <DraftInput
              type="text"
              size={24}
              aria-label={`Corner ${k + 1}, latitude, longitude`}
              value={placeText(corner)}
              onTake={(text) => {
                const typed = placeFrom(text);
                if (typed) moveCorner(k, typed);
                return typed === null ? PLACE_WANTED : null;
              }}
            />{" "}
            <button type="button" aria-label={`Take out corner ${k + 1}`} onClick={() => dropCorner(k)}>
              ×
            </button>
          </li>
        ))}
      </ol>
      <div class="pair">
        <label for="next-corner">Next corner</label>
        <DraftInput
          id="next-corner"
          type="text"
          size={24}
          value=""
          isForNext={true}
          onTake={(text) => {
            const typed = placeFrom(text);
            if (typed) addCorner(typed);
            return typed === null && text.trim() !== "" ? PLACE_WANTED : null;
          }}
        />
      </div>
      <button type="button" disabled={!at} onClick={() => at && addCorner(at)}>
        Corner at the read-out
      </button>
      <div class="pair">
        <label for="kept-what">What is there</label>
        <input
          id="kept-what"
          type="text"
          size={18}
          value={what}
          onInput={(event) => change({ what: event.currentTarget.value })}
        />
      </div>
      <ChoiceLine
        label="Keeps off"
        about="What it keeps off"
        value={method}
        options={METHODS}
        onChoose={(chosen) => change({ method: chosen })}
      />
      <div class="pair">
        <label for="kept-setback">Setback, ft, as your rules say</label>
        <input
          id="kept-setback"
          type="text"
          inputMode="decimal"
          value={setbackFt}
          onInput={(event) => change({ setbackFt: event.currentTarget.value })}
        />
      </div>
      <div class="actions">
        <button type="button" class="action" disabled={!isFit || readOnly.value} onClick={keep}>
          Keep off
        </button>
        <button type="button" class="aside" onClick={() => (drawing.value = null)}>
          Put the drawing away
        </button>
      </div>
      {corners.length > 0 && corners.length < 3 && (
        <p class="small second">{numberText(3 - corners.length, 0)} more corners at least.</p>
      )}
    </fieldset>
  );
}
