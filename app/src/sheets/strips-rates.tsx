import { lengthIn, lengthText, numberText, type Plan } from "#core";
import { ChoiceLine } from "../parts/choice-line.tsx";
import { NeededLine } from "../parts/figure-line.tsx";
import { Lines } from "../parts/lines.tsx";
import { withRates, withResponse, withSegment } from "../state/drive-edits.ts";
import { area, words } from "../state/figures.ts";
import { edit, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { said } from "../state/said.ts";
import { settings } from "../state/settings.ts";

/** Where the rate may change, and what the meter can follow. */
export function Rates({ of }: { readonly of: Plan }) {
  const { rig } = of;
  const { system } = settings.value;
  const perM = lengthIn(1, system);
  const isStretched = rig.rates === "stretches";
  const shortest = field.value?.driving.stretches;
  return (
    <>
      <ChoiceLine
        label="Rates"
        about="Where rates change"
        value={rig.rates ?? "segments"}
        options={[
          ["stretches", "as the meter can follow"],
          ["segments", "every segment"],
        ]}
        onChoose={(rates) => edit(withRates(of, rates))}
        disabled={readOnly.value}
      />
      <dl class="lines">
        <NeededLine
          label="Segment length"
          unit={words().length}
          value={Math.round(rig.segmentM * perM)}
          least={perM}
          most={500 * perM}
          step={1}
          onTake={(typed) => edit(withSegment(of, typed / perM, `${said(typed)} ${words().length}`))}
        />
        {isStretched && (
          <NeededLine
            label="Meter response"
            unit="s"
            value={rig.responseS ?? shortest?.responseS ?? 4}
            most={60}
            step={0.5}
            onTake={(seconds) => edit(withResponse(of, seconds))}
          />
        )}
      </dl>
      {isStretched && shortest && (
        <p class="small second">
          Shortest stretch {lengthText(shortest.shortestM, system)} {words().length}
          {rig.shortestStretchFt === undefined
            ? `: 3 × ${said(shortest.mph)} mph${rig.work ? "" : " (assumed)"} × ${said(shortest.responseS)} s${shortest.isResponseTyped ? "" : " (assumed)"}`
            : ", as typed"}
          .
        </p>
      )}
    </>
  );
}

/** What the passes come to. */
export function Driven() {
  const shown = field.value;
  if (!shown) return null;
  const { driving } = shown;
  const { system } = settings.value;
  const { overlap } = driving;
  const how =
    overlap.by === "typed"
      ? "typed"
      : `by geometry, ${overlap.sections === 1 ? "whole rig on or off" : `${overlap.sections} sections`}`;
  const lines = [
    ["Headland, interior", `${area(driving.headlandAc)} + ${area(driving.interiorAc)} ${words().area}`],
    [
      "Passes",
      driving.firstPass === null
        ? "none"
        : `${numberText(driving.firstPass, 0)} to ${numberText(driving.lastPass ?? 0, 0)}, ${driving.runs} runs`,
    ],
    [
      "Twice or beyond the edge",
      overlap.by === "unknown"
        ? "not known along a curve"
        : `${area(overlap.overlapAc)} ${words().area} (${how})`,
    ],
    [
      "Turns",
      `${lengthText(driving.turnM, system)} ${words().length}, radius ${lengthText(driving.turnRadiusM, system)} ${words().length}${driving.isTurnRadiusTyped ? "" : " (assumed)"}`,
    ],
  ] as const;
  return <Lines of={lines} />;
}
