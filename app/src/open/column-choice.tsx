import { COLUMN_CHOICES, COLUMN_UNITS, type LabMeaning } from "#core";
import { type ColumnReading, MEANINGS } from "../engine/columns-read.ts";

export interface ChooseColumn {
  /** `P ppm`, `other`; null takes what was chosen back. */
  readonly choose: (path: string, heading: string, answer: string | null) => void;
  readonly isFixed?: boolean;
}

interface ColumnChoiceProps extends ChooseColumn {
  readonly path: string;
  readonly column: ColumnReading;
}

const words = (means: LabMeaning): string => MEANINGS[means] ?? "not used";

const answerOf = (means: LabMeaning, unit: string): string => (unit === "" ? means : `${means} ${unit}`);

/** What a column is taken as, to be changed by hand. */
export function MeaningChoice({ path, column, choose, isFixed = false }: ColumnChoiceProps) {
  const { heading, takenAs, choice } = column;
  if (choice === null) return <>{takenAs}</>;
  return (
    <>
      <select
        aria-label={`${heading}, taken as`}
        value={choice.means}
        disabled={isFixed}
        onChange={(event) => choose(path, heading, event.currentTarget.value)}
      >
        {COLUMN_CHOICES.includes(choice.means) ? null : (
          <option value={choice.means}>{words(choice.means)}</option>
        )}
        {COLUMN_CHOICES.map((means) => (
          <option key={means} value={means}>
            {words(means)}
          </option>
        ))}
      </select>
      {takenAs !== words(choice.means) && <span class="under">{takenAs}</span>}
    </>
  );
}

const HAS_UNIT: ReadonlySet<LabMeaning> = new Set(["P", "K", "P2O5", "K2O"]);

/** The unit of a column, to be changed by hand where rates hang on it. */
export function UnitChoice({ path, column, choose, isFixed = false }: ColumnChoiceProps) {
  const { heading, unit, choice } = column;
  if (choice === null || !HAS_UNIT.has(choice.means))
    return <span class={unit === "?" ? "flag-text" : ""}>{unit}</span>;
  const units = COLUMN_UNITS.filter((one) => one !== "in" && one !== "cm");
  return (
    <select
      aria-label={`${heading}, unit`}
      class={unit === "?" ? "flag-text" : ""}
      value={unit === "?" ? "" : unit}
      disabled={isFixed}
      onChange={(event) => {
        const typed = event.currentTarget.value;
        if (typed !== "") choose(path, heading, answerOf(choice.means, typed));
      }}
    >
      {(unit === "" || unit === "?") && <option value="">?</option>}
      {units.map((one) => (
        <option key={one} value={one}>
          {one}
        </option>
      ))}
    </select>
  );
}
