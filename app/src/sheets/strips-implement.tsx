import { LEAST_ROW_SPACING_IN, LEAST_SPREADER_CELL_FT, lengthText, MOST_ROWS, type Plan } from "#core";
import { FigureLine, NeededLine, PickLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { words } from "../state/figures.ts";
import {
  withFollower,
  withLead,
  withRigKeys,
  withRowSpacing,
  withRows,
  withSectionDelay,
  withShortestStretch,
  withSpreader,
  withTurnRadius,
} from "../state/implement-edits.ts";
import { edit } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { said } from "../state/said.ts";
import { settings } from "../state/settings.ts";

/** How the rig turns, how its meters follow and its sections start. */
export function MeterAndTurns({ of }: { readonly of: Plan }) {
  const { rig } = of;
  const { system } = settings.value;
  const driving = field.value?.driving;
  return (
    <Fold title="Turns, lead, delays">
      <dl class="lines">
        <FigureLine
          label="Smallest turn radius"
          unit="ft"
          value={rig.turnRadiusFt ?? null}
          least={1}
          otherwise={
            driving ? `${lengthText(driving.turnRadiusM, system)} ${words().length} assumed` : "assumed"
          }
          onTake={(typed) => edit(withTurnRadius(of, typed))}
        />
        <FigureLine
          label="Rates moved ahead (the controller's own delay must be 0 then)"
          unit="s"
          value={rig.leadS ?? null}
          least={0.1}
          most={30}
          step={0.5}
          otherwise="not at all"
          onTake={(seconds) => edit(withLead(of, seconds))}
        />
        {rig.rates === "stretches" && (
          <FigureLine
            label="Shortest stretch with a rate of its own"
            unit="ft"
            value={rig.shortestStretchFt ?? null}
            least={1}
            otherwise="3 × speed × response"
            onTake={(typed) => edit(withShortestStretch(of, typed))}
          />
        )}
        {(["on", "off"] as const).map((which) => (
          <FigureLine
            key={which}
            label={which === "on" ? "Sections on: product falls after" : "Sections off: product ends after"}
            unit="s"
            value={(which === "on" ? rig.sections?.onDelayS : rig.sections?.offDelayS) ?? null}
            most={60}
            step={0.1}
            otherwise="at once"
            onTake={(seconds) => edit(withSectionDelay(of, which, seconds))}
          />
        ))}
      </dl>
    </Fold>
  );
}

/** Width and steps of the rig and of the spreader. */
export function Implements({ of }: { readonly of: Plan }) {
  const { rig, spreader } = of;
  return (
    <Fold title="Rows, steps, spreader">
      <dl class="lines">
        <NeededLine
          label="Rows of the rig"
          unit=""
          value={rig.rows}
          least={1}
          most={MOST_ROWS}
          onTake={(rows) => edit(withRows(of, Math.round(rows)))}
        />
        <NeededLine
          label="Row spacing"
          unit="in."
          value={rig.rowSpacingIn}
          least={LEAST_ROW_SPACING_IN}
          onTake={(inches) => edit(withRowSpacing(of, inches))}
        />
        <NeededLine
          label="Strip rates in steps of"
          unit="lb/ac"
          value={rig.rateStepLbPerAc}
          least={0.1}
          onTake={(typed) =>
            edit(withRigKeys(of, { rateStepLbPerAc: typed }, `strip rates in steps of ${said(typed)} lb/ac`))
          }
        />
        {(["widthFt", "lengthFt"] as const).map((key) => (
          <NeededLine
            key={key}
            label={key === "widthFt" ? "Spreader cells across the passes" : "Spreader cells along the passes"}
            unit="ft"
            value={spreader[key]}
            least={LEAST_SPREADER_CELL_FT}
            onTake={(typed) =>
              edit(
                withSpreader(
                  of,
                  { [key]: typed },
                  `spreader cells ${said(typed)} ft ${key === "widthFt" ? "across" : "along"}`,
                ),
              )
            }
          />
        ))}
        <NeededLine
          label="Spreader rates in steps of"
          unit="lb/ac"
          value={spreader.rateStepLbPerAc}
          least={0.1}
          onTake={(typed) =>
            edit(
              withSpreader(of, { rateStepLbPerAc: typed }, `spreader rates in steps of ${said(typed)} lb/ac`),
            )
          }
        />
        <FigureLine
          label="Least the spreader can spread"
          unit="lb/ac"
          value={spreader.leastLbPerAc ?? null}
          least={0.1}
          otherwise="not told"
          onTake={(typed) =>
            edit(
              withSpreader(
                of,
                { leastLbPerAc: typed },
                typed === null
                  ? "least of the spreader not told"
                  : `spreader spreads ${said(typed)} lb/ac at least`,
              ),
            )
          }
        />
      </dl>
    </Fold>
  );
}

/** What follows on the strips, held against them: where it does not fit, a doubt says so. */
export function Planter({ of }: { readonly of: Plan }) {
  const { planter } = of.rig;
  const plain = (value: boolean | undefined): string => (value === undefined ? "" : value ? "yes" : "no");
  const flag = (text: string): boolean | null => (text === "" ? null : text === "yes");
  return (
    <Fold title="Planter on the strips">
      <dl class="lines">
        <FigureLine
          label="Rows of the planter (empty: not told)"
          unit=""
          value={planter?.rows ?? null}
          least={1}
          most={MOST_ROWS}
          onTake={(rows) =>
            edit(
              rows === null
                ? withFollower(of, null, "planter not told")
                : withFollower(of, { rows: Math.round(rows) }, `planter of ${Math.round(rows)} rows`),
            )
          }
        />
        {planter && (
          <>
            <NeededLine
              label="Its row spacing"
              unit="in."
              value={planter.rowSpacingIn}
              least={1}
              onTake={(rowSpacingIn) =>
                edit(withFollower(of, { rowSpacingIn }, `planter rows ${said(rowSpacingIn)} in. apart`))
              }
            />
            <PickLine
              label="The crop is drilled"
              value={plain(planter.drilled)}
              options={[
                ["", "not told"],
                ["no", "no, in rows"],
                ["yes", "yes"],
              ]}
              onChoose={(text) =>
                edit(
                  withFollower(
                    of,
                    { drilled: flag(text) },
                    text === ""
                      ? "drilled or not: not told"
                      : text === "yes"
                        ? "crop drilled"
                        : "crop in rows",
                  ),
                )
              }
            />
            <PickLine
              label="It is steered by the strips' line"
              value={plain(planter.sameLine)}
              options={[
                ["", "not told"],
                ["yes", "yes"],
                ["no", "no, by another"],
              ]}
              onChoose={(text) =>
                edit(
                  withFollower(
                    of,
                    { sameLine: flag(text) },
                    text === ""
                      ? "planter's line not told"
                      : text === "yes"
                        ? "planter on the strips' line"
                        : "planter on another line",
                  ),
                )
              }
            />
          </>
        )}
      </dl>
    </Fold>
  );
}
