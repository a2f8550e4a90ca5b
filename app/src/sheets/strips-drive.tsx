import { headingText, type Plan, type PlanField } from "#core";
import type { LonLat } from "../engine/protocol.ts";
import { ChoiceLine } from "../parts/choice-line.tsx";
import { DraftInput } from "../parts/draft-input.tsx";
import { FigureLine, NeededLine } from "../parts/figure-line.tsx";
import {
  type LineFrom,
  lineFrom,
  PATTERNS,
  withHeading,
  withHeadlandPasses,
  withHeadlands,
  withLineOfFile,
  withOddYears,
  withOverlap,
  withPattern,
  withPlaces,
  withSections,
} from "../state/drive-edits.ts";
import { withLineRecord, withOwnHeadland } from "../state/implement-edits.ts";
import { edit, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { Implements, MeterAndTurns, Planter } from "./strips-implement.tsx";
import { Driven, Rates } from "./strips-rates.tsx";

interface DriveProps {
  readonly of: Plan;
  readonly one: PlanField;
}

/** How the rig drives the field: line, headland, order, stretches. Every change is a named edit. */
export function Drive({ of, one }: DriveProps) {
  const { rig } = of;
  const passes = one.headlandPasses ?? rig.headlandPasses ?? 0;
  return (
    <>
      <Line of={of} one={one} />
      <ChoiceLine
        label="Headland passes"
        about="Headland passes"
        value={String(passes)}
        options={["0", "1", "2", "3", "4"].map((count) => [count, count] as const)}
        onChoose={(count) => edit(withHeadlandPasses(of, one, Number(count), passes))}
        disabled={readOnly.value}
      />
      {of.fields.length > 1 && (
        <ChoiceLine
          label="That number is"
          about="Whose number of headland passes it is"
          value={one.headlandPasses === undefined ? "rig" : "own"}
          options={[
            ["rig", "for every field"],
            ["own", "for this field"],
          ]}
          onChoose={(whose) => edit(withOwnHeadland(of, one, whose === "own"))}
          disabled={readOnly.value}
        />
      )}
      {passes > 0 && (
        <ChoiceLine
          label="Headland worked"
          about="When the headland is worked"
          value={rig.headlands ?? "last"}
          options={[
            ["last", "last"],
            ["first", "first"],
          ]}
          onChoose={(when) => edit(withHeadlands(of, when))}
          disabled={readOnly.value}
        />
      )}
      <ChoiceLine
        label="Order"
        about="Order of the passes"
        value={rig.pattern ?? "back-and-forth"}
        options={PATTERNS}
        onChoose={(pattern) => edit(withPattern(of, pattern))}
        disabled={readOnly.value}
      />
      <Rates of={of} />
      <ChoiceLine
        label="Odd years"
        about="Half a row aside in odd years"
        value={rig.oddYears ?? "never"}
        options={[
          ["never", "on the line"],
          ["left", "half a row left"],
          ["right", "half a row right"],
        ]}
        onChoose={(side) => edit(withOddYears(of, side))}
        disabled={readOnly.value}
      />
      <dl class="lines">
        <NeededLine
          label="Sections that start and stop alone"
          unit=""
          value={rig.sections?.count ?? 1}
          least={1}
          most={rig.rows}
          step={1}
          doubtOf={(count) =>
            rig.rows % count === 0 ? null : `Sections are alike: ${rig.rows} rows do not part into ${count}.`
          }
          onTake={(count) => edit(withSections(of, count))}
        />
        <FigureLine
          label="Overlap"
          unit="%"
          value={rig.overlapPercent ?? null}
          most={100}
          step={0.1}
          otherwise="by geometry"
          onTake={(percent) => edit(withOverlap(of, percent))}
        />
      </dl>
      <MeterAndTurns of={of} />
      <Implements of={of} />
      <Planter of={of} />
      <Driven />
    </>
  );
}

function Line({ of, one }: DriveProps) {
  const ground = field.value?.ground.id === one.id ? field.value.ground : null;
  const from = lineFrom(one);
  const heading = ground ? ground.headingDeg : Number.NaN;
  const choose = (chosen: LineFrom) => {
    if (chosen === "file") edit(withLineOfFile(of, one));
    else if (!ground) return;
    else if (chosen === "heading") edit(withHeading(of, one, Math.round(heading * 10) / 10));
    else edit(withPlaces(of, one, [ground.line[0], ground.line[1]], "line A-B typed"));
  };
  return (
    <>
      <ChoiceLine
        label="Line A-B"
        about="Where the guidance line comes from"
        value={from}
        options={[
          ["file", "file"],
          ["heading", "heading"],
          ["places", "two places"],
        ]}
        onChoose={choose}
        disabled={readOnly.value || !ground}
      />
      {ground && ground.guidance.length > 2 && (
        <p class="small second">
          A curve of {ground.guidance.length} points; passes run parallel to it.{" "}
          <button
            type="button"
            class="link"
            disabled={readOnly.value}
            onClick={() =>
              edit(
                withPlaces(
                  of,
                  one,
                  [ground.guidance[0]!, ground.guidance.at(-1)!],
                  "straight from the curve's first point to its last",
                ),
              )
            }
          >
            Straight from its first point to its last
          </button>
        </p>
      )}
      {from === "file" && one.guidance.record !== undefined && (
        <dl class="lines">
          <NeededLine
            label={`Line of ${one.guidance.source}, record`}
            unit=""
            value={one.guidance.record}
            least={1}
            step={1}
            onTake={(record) => edit(withLineRecord(of, one, Math.round(record)))}
          />
        </dl>
      )}
      {from === "heading" && ground && (
        <dl class="lines">
          <NeededLine
            label="Heading, clockwise from north"
            unit="degrees"
            value={Number(headingText(heading))}
            least={-360}
            most={360}
            step={0.1}
            onTake={(degrees) => edit(withHeading(of, one, degrees))}
          />
        </dl>
      )}
      {from === "places" && <Places of={of} one={one} />}
    </>
  );
}

/** A and B as latitude, longitude: the typed twin of their handles on the plat. */
function Places({ of, one }: DriveProps) {
  const { driveAlong } = one;
  if (!driveAlong || !("places" in driveAlong) || driveAlong.places.length !== 2) return null;
  const places = driveAlong.places.map(({ lonDeg, latDeg }): LonLat => [lonDeg, latDeg]);
  return (
    <>
      {places.map((at, k) => (
        <div class="pair" key={k}>
          <label for={`line-${k}`}>{k === 0 ? "A" : "B"}, latitude, longitude</label>
          <DraftInput
            id={`line-${k}`}
            type="text"
            size={24}
            value={placeText(at)}
            disabled={readOnly.value}
            onTake={(text) => {
              const typed = placeFrom(text);
              if (typed)
                edit(
                  withPlaces(
                    of,
                    one,
                    places.map((other, i) => (i === k ? typed : other)),
                  ),
                );
              return typed === null ? PLACE_WANTED : null;
            }}
          />
        </div>
      ))}
    </>
  );
}

/** Said where what was typed is no place. */
export const PLACE_WANTED = "Give latitude and longitude in degrees: 42.0012, -93.4985.";

export const placeText = ([lon, lat]: LonLat): string => `${lat.toFixed(7)}, ${lon.toFixed(7)}`;

/** `42.0012, -93.4985`: latitude first, as signs and phones have it; null when it is no place. */
export function placeFrom(text: string): LonLat | null {
  const read = /^\s*(-?\d+(?:\.\d+)?)\s*[,; ]\s*(-?\d+(?:\.\d+)?)\s*$/.exec(text.replaceAll("−", "-"));
  if (!read) return null;
  const [lat, lon] = [Number(read[1]), Number(read[2])];
  return Math.abs(lat) <= 80 && Math.abs(lon) <= 180 ? [lon, lat] : null;
}
