import {
  beyondTender,
  binWords,
  fillsInWords,
  firstLoadsInWords,
  missingRigKeys,
  numberText,
  UNKNOWN,
} from "#core";
import { Bench, BigNumber } from "../parts/bench.tsx";
import { Drawing } from "../parts/drawing.tsx";
import { Fold } from "../parts/fold.tsx";
import { Notices } from "../parts/notices.tsx";
import { TroubleWords } from "../parts/trouble-words.tsx";
import { tilde, words } from "../state/figures.ts";
import { planField } from "../state/look.ts";
import { openings, plan } from "../state/opened.ts";
import { refusal } from "../state/results.ts";
import { saveSheet } from "../state/save-sheet.ts";
import { fillsShown, seasonTrouble } from "../state/season-state.ts";
import { settings } from "../state/settings.ts";
import { AssumedPart, StandPart, StopsTable } from "./fills-stops.tsx";
import { RigLines, rigWanted } from "./rig-lines.tsx";
import { SeasonPart } from "./season.tsx";

/** Where to stop and fill in the chosen field, then the farm's season. */
export function FillsSheet() {
  const of = plan.value!;
  const one = planField.value!;
  const missing = missingRigKeys(of);
  const shown = fillsShown.value?.field === one.id ? fillsShown.value : null;
  const fills = missing.length === 0 ? shown?.fills : undefined;
  const isOld = seasonTrouble.value !== null;
  return (
    <Bench
      title="Fills and season"
      aside={<span class="second">{one.name}</span>}
      actions={
        <button
          type="button"
          class="action"
          onClick={() => void saveSheet("fills.html")}
          disabled={!fills || isOld || refusal.value !== null}
        >
          Save the fill sheet
        </button>
      }
    >
      <BigNumber
        value={
          fills ? `${isOld ? "~" : tilde()}${fills.plan.feasible ? fills.stops.length : UNKNOWN}` : UNKNOWN
        }
        words={
          fills
            ? fills.stops.length === 1
              ? "stop to fill in this field"
              : "stops to fill in this field"
            : "stops to fill"
        }
      />
      {missing.length > 0 && <p>Type {rigWanted(of)}, and the stops stand here.</p>}
      {seasonTrouble.value && (
        <div class="doubt" role="alert">
          <TroubleWords of={seasonTrouble.value} />
        </div>
      )}
      <Fold title="Rig and tender" startsOpen={missing.length > 0}>
        <RigLines />
      </Fold>
      {fills && shown && (
        <>
          {!fills.plan.feasible && <p class="flag-text">{fills.plan.message}.</p>}
          {shown.begun !== "" && (
            <p class="flag-text" role="status">
              {shown.begun}.
            </p>
          )}
          {beyondTender(fills).map((line) => (
            <p key={line} class="flag-text">
              {line}
            </p>
          ))}
          {shown.plannedOn !== "" && (
            <p class="flag-text" role="status">
              Planned on {shown.plannedOn}. The fill sheet that is saved is of the whole field, from its first
              pass.
            </p>
          )}
          {shown.plannedOn === "" &&
            firstLoadsInWords(fills, fills.bins.map(binWords), settings.value.system).map((line) => (
              <p key={line}>{line}</p>
            ))}
          <StopsTable fills={fills} isOld={isOld} />
          <ul class="small">
            {fillsInWords(fills, settings.value.system).map((line) => (
              <li key={line}>{line}</li>
            ))}
            {(fills.habitMoreMinutes ?? 0) > 0.5 && (
              <li>
                Running until nearly empty would take {numberText(fills.habitMoreMinutes!, 0)} min more.
              </li>
            )}
          </ul>
          {shown.weights.map((svg, b) => (
            <figure key={fills.bins[b]!.id}>
              <figcaption class="small">
                <b>{binWords(fills.bins[b]!)}</b>, {words().mass} on its scale pass by pass
              </figcaption>
              <Drawing
                svg={svg}
                about={`${binWords(fills.bins[b]!)}: what its scale shows, pass by pass; reserve dotted`}
              />
            </figure>
          ))}
          <StandPart key={`${openings.value} ${one.id}`} field={one.id} fills={fills} />
          <Notices
            notices={fills.notices.filter(
              ({ code }) =>
                code !== "tender-below-load" && (fills.plan.feasible || code !== fills.plan.reason),
            )}
          />
          <SeasonPart />
          <AssumedPart assumed={fills.assumed} />
        </>
      )}
    </Bench>
  );
}
