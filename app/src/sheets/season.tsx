import { aheadInWords, coatedInWords, dayText, numberText, type Plan, seasonInWords } from "#core";
import { Drawing } from "../parts/drawing.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { NeededLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { Notices } from "../parts/notices.tsx";
import { WideTable } from "../parts/wide-table.tsx";
import { area, words } from "../state/figures.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { withDaysPerWeek, withPlanter, withSeason } from "../state/season-edits.ts";
import { seasonShown, whatIf } from "../state/season-state.ts";
import { settings } from "../state/settings.ts";

/** The farm's season: dates, acres a day, both levers, planters. */
export function SeasonPart() {
  const shown = seasonShown.value;
  const season = shown?.season;
  return (
    <>
      <h3>Season</h3>
      {!season && <p class="second">Stands here once the whole farm is worked out.</p>}
      {season && shown && (
        <>
          <ul class="small">
            {[...seasonInWords(season, settings.value.system), ...coatedInWords(season)].map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          {shown.finish !== "" && (
            <figure>
              <figcaption class="small">
                <b>Years in 10</b> in which all is done by the day
              </figcaption>
              <Drawing svg={shown.finish} about="Chance of being done by each day" />
            </figure>
          )}
          <FieldsTable />
          {season.planters.map((planter) => (
            <p key={planter.id} class="small">
              {planter.id}, {area(planter.acres)} {words().area} from {dayText(planter.startsOn)}:{" "}
              {aheadInWords(planter)}
              {planter.leadChance === null
                ? ""
                : `; far enough ahead in ${numberText(100 * planter.leadChance, 0)} % of years`}
              .
            </p>
          ))}
          <Notices notices={season.notices} />
        </>
      )}
      <WhatIf />
      <SeasonInputs />
    </>
  );
}

function FieldsTable() {
  const { fields } = seasonShown.value!.season;
  return (
    <WideTable label="Fields, next to run first">
      <table>
        <caption class="small second">Fields, next to run first</caption>
        <thead>
          <tr>
            <th scope="col">field</th>
            <FigureHeads of={[`${words().area} left`, "h"]} />
            <th scope="col">limit</th>
            <FigureHeads of={["8 in 10", "5 in 10"]} />
          </tr>
        </thead>
        <tbody>
          {fields.map((one) => (
            <tr key={one.fieldId}>
              <th scope="row">{one.name}</th>
              <td class="figure">{area(one.leftAc)}</td>
              <td class="figure">{numberText(one.hours, 1)}</td>
              <td>{one.isDone ? "done" : one.bound}</td>
              <td class="figure">{dayText(one.date80)}</td>
              <td class="figure">{dayText(one.date50)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </WideTable>
  );
}

/** Try it: nothing of this is taken into the plan. */
function WhatIf() {
  const of = plan.value!;
  const now = whatIf.value;
  const put = (some: typeof now): void => {
    whatIf.value = { ...now, ...some };
  };
  return (
    <Fold title="What if">
      {() => (
        <>
          <dl class="lines">
            <NeededLine
              label="Of the strip's product"
              unit="%"
              value={100 * (now.stripShare ?? 1)}
              onTake={(value) => put({ stripShare: value / 100 })}
            />
            {of.tender && (
              <NeededLine
                label="Tenders"
                unit=""
                value={now.tenders ?? of.tender.count}
                least={1}
                onTake={(value) => put({ tenders: Math.round(value) })}
              />
            )}
            <NeededLine
              label="Hours a day"
              unit="h"
              value={now.hoursPerDay ?? of.rig.work?.hoursPerDay}
              least={1}
              onTake={(value) => put({ hoursPerDay: value })}
            />
          </dl>
          {Object.keys(now).length > 0 && (
            <p>
              <span class="flag-text">The season above is with these.</span>{" "}
              <button
                type="button"
                class="aside"
                onClick={() => {
                  whatIf.value = {};
                }}
              >
                As planned
              </button>
            </p>
          )}
        </>
      )}
    </Fold>
  );
}

function SeasonInputs() {
  const of = plan.value!;
  const { season } = of;
  const days = season?.workableDays ?? [];
  const planters = season?.planters ?? [];
  const start = season?.start ?? "";
  return (
    <Fold title="Days and planter">
      {() => (
        <>
          <dl class="lines">
            <DayLine
              label="First day that may be worked"
              value={start}
              onTake={(day) => edit(withSeason(of, `season begins ${day}`, { start: day }))}
            />
            {(days.length === 0 ? [undefined] : days).map((one, at) => (
              <NeededLine
                key={one?.from ?? "from the start on"}
                label={`Workable days a week${one === undefined || days.length < 2 ? "" : `, ${dayText(one.from)} to ${dayText(one.to)}`}`}
                unit="days"
                value={one?.daysPerWeek}
                onTake={(value) => edit(withDaysPerWeek(of, Math.min(7, value), at))}
              />
            ))}
            {(planters.length === 0 ? [undefined] : planters).map((planter, at) => (
              <PlanterLines key={planter?.id ?? "planter"} of={of} at={at} />
            ))}
          </dl>
          <p class="second small">
            Published counts of workable days lie between 3 and 5 a week in April and May; half-months of
            their own, humidity and more planters can be typed in the saved plan file.
          </p>
        </>
      )}
    </Fold>
  );
}

/** Acres a day and first day of one planter, by its name where there are several. */
function PlanterLines({ of, at }: { readonly of: Plan; readonly at: number }) {
  const { start = `${of.seasonYear}-04-20`, planters = [] } = of.season ?? {};
  const planter = planters[at];
  const which = planters.length < 2 ? "" : `, ${planter!.id}`;
  return (
    <>
      <NeededLine
        label={`Planter${which}`}
        unit="ac a day"
        value={planter?.acPerDay}
        least={1}
        onTake={(value) => edit(withPlanter(of, value, planter?.startsOn ?? start, at))}
      />
      <DayLine
        label={`Planting begins${which}`}
        value={planter?.startsOn ?? ""}
        onTake={(day) => edit(withPlanter(of, planter?.acPerDay ?? 200, day, at))}
      />
    </>
  );
}

interface DayLineProps {
  readonly label: string;
  readonly value: string;
  readonly onTake: (day: string) => void;
}

const DayLine = ({ label, value, onTake }: DayLineProps) => (
  <div>
    <dt>{label}</dt>
    <dd>
      <input
        type="date"
        aria-label={label}
        value={value}
        disabled={readOnly.value}
        onChange={(event) => {
          if (/^\d{4}-\d{2}-\d{2}$/.test(event.currentTarget.value)) onTake(event.currentTarget.value);
        }}
      />
    </dd>
  </div>
);
