import { counted, type Question, UNKNOWN } from "#core";
import { isPlanFile } from "../engine/plan-file.ts";
import type { FileReading } from "../engine/read-files.ts";
import { type ChooseColumn, MeaningChoice, UnitChoice } from "./column-choice.tsx";

interface FileTableProps {
  readonly paths: readonly string[];
  readonly readings: readonly FileReading[];
  readonly questions: readonly Question[];
  readonly isReady: boolean;
  /** Files that the plan made of them names; none before it is. */
  readonly inPlan?: ReadonlySet<string>;
  /** Leaving out what cannot be read, and taking it in again; none where the files are the plan's. */
  readonly leave?: LeaveFile;
}

interface LeaveFile {
  readonly leftOut: readonly string[];
  readonly isFixed: boolean;
  readonly change: (dropped: string, isLeft: boolean) => void;
}

/** A line a file: read as, found, state. */
export function FileTable({ paths, readings, questions, isReady, inPlan, leave }: FileTableProps) {
  const byPath = new Map(readings.map((one) => [one.path, one]));
  const state = (path: string): string => {
    const one = byPath.get(path);
    if (one?.isLeft) return "not added";
    if (one?.error) return "not read";
    const asked = questions.filter((question) => isAbout(question, path, one)).length;
    const open = (one?.bad ?? []).filter(({ mended, counts }) => mended === null && !counts);
    const rows = open.length;
    const parts = [
      ...(asked > 0 ? [counted(asked, "question")] : []),
      ...(rows > 0 ? [counted(rows, "row")] : []),
    ];
    if (parts.length > 0) return parts.join(", ");
    if (one && one.unfit !== "" && !inPlan?.has(path)) return inPlan ? "not added" : "";
    return isReady || one ? "✓ ready" : "";
  };
  return (
    <table class="files">
      <thead>
        <tr>
          <th scope="col">file</th>
          <th scope="col">read as</th>
          <th scope="col">found</th>
          <th scope="col" class="figure">
            state
          </th>
        </tr>
      </thead>
      <tbody>
        {paths.map((path) => {
          const one = byPath.get(path);
          const words = state(path);
          return (
            <tr key={path}>
              <th scope="row">{one?.called ?? path}</th>
              <td>{one ? one.as || UNKNOWN : isPlanFile(path) ? "plan" : ""}</td>
              <td>
                {one && foundWords(one)}
                {one && one.unfit !== "" && <div class="flag-text">{one.unfit}</div>}
                {one && one.beside !== "" && <div class="flag-text">{one.beside}</div>}
                {one && leave && <LeaveButton of={one} isReady={isReady} {...leave} />}
              </td>
              <td class={`figure${words === "✓ ready" ? "" : " flag-text"}`}>{words}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** A file that cannot be read keeps all others waiting until it is left out. */
function LeaveButton({
  of: { called, dropped, error },
  isReady,
  leftOut,
  isFixed,
  change,
}: LeaveFile & { readonly of: FileReading; readonly isReady: boolean }) {
  const isLeft = leftOut.includes(dropped);
  if (!isLeft && (error === null || isReady)) return null;
  return (
    <button type="button" class="link small" disabled={isFixed} onClick={() => change(dropped, !isLeft)}>
      {isLeft ? `Read ${called} all the same` : `Leave ${called} out`}
    </button>
  );
}

/** A question that names the file, or that reading it asks; what a file is for is asked of that file alone. */
const isAbout = ({ key, text, seen }: Question, path: string, one: FileReading | undefined): boolean =>
  /^(role|same-name)\./.test(key)
    ? key.replace(/^(role|same-name)\./, "") === path
    : text.includes(path) || seen.includes(path) || !!one?.asked.includes(key);

/** A file that could not be read says why, unless the row it is about does. */
function foundWords({ error, bad, found }: FileReading): string {
  if (error === null) return found;
  return bad.some(({ mended }) => mended === null)
    ? "a row stands in the way, below"
    : `${error.message} ${error.remedy}`;
}

/** What every column of the tables was taken as; open where there is a lab table, folded for shapes. */
export const ColumnTables = ({
  readings,
  ...change
}: { readonly readings: readonly FileReading[] } & ChooseColumn) => (
  <>
    {readings
      .filter(({ columns }) => columns.length > 0)
      .map(({ path, as, columns }) => (
        <details key={path} open={as === "soil samples" || columns.some(({ choice }) => choice !== null)}>
          <summary>
            <h3>{path}, columns</h3>
          </summary>
          <table>
            <thead>
              <tr>
                <th scope="col">in the file</th>
                <th scope="col">taken as</th>
                <th scope="col">unit</th>
                <th scope="col">how known</th>
              </tr>
            </thead>
            <tbody>
              {columns.map((column) => (
                <tr key={column.heading}>
                  <th scope="row">{column.heading}</th>
                  <td>
                    <MeaningChoice path={path} column={column} {...change} />
                  </td>
                  <td>
                    <UnitChoice path={path} column={column} {...change} />
                  </td>
                  <td class="second">
                    {column.howKnown}
                    {column.choice?.isByHand && (
                      <>
                        {" "}
                        <button
                          type="button"
                          class="link small"
                          disabled={change.isFixed}
                          aria-label={`${column.heading} as its heading says`}
                          onClick={() => change.choose(path, column.heading, null)}
                        >
                          as its heading says
                        </button>
                      </>
                    )}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      ))}
  </>
);
