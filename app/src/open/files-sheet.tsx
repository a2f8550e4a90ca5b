import { type Signal, signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import type { FileReading } from "../engine/read-files.ts";
import { askHowRead } from "../state/errands.ts";
import { standingAnswers, withColumn, withoutMend, withoutRow, withValue } from "../state/file-edits.ts";
import { answers, edit, opened, plan, readOnly } from "../state/opened.ts";
import type { Change } from "../state/plan-edits.ts";
import { BadRows } from "./bad-rows.tsx";
import { ColumnTables, FileTable } from "./file-readings.tsx";

/** The files of the open plan stand in place of the sheet. */
export const filesShown: Signal<boolean> = signal(false);

/** How the files of the open plan were read; a value typed again or a row left out is an edit like any other. */
export function FilesSheet() {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  // Who goes to a sheet is shown that sheet.
  useEffect(() => {
    const leave = () => {
      filesShown.value = false;
    };
    addEventListener("hashchange", leave);
    return () => removeEventListener("hashchange", leave);
  }, []);
  const of = plan.value;
  const files = opened.value?.files;
  const given = answers.value;
  const [readings, setReadings] = useState<readonly FileReading[]>([]);
  useEffect(() => {
    if (!of || !files) return;
    let isOver = false;
    const named = new Set(of.sources.map(({ path }) => path));
    const own = files.filter(([path]) => named.has(path));
    void askHowRead(own, { ...standingAnswers(of), ...given }).then((read) => {
      if (!isOver) setReadings(read);
    });
    return () => {
      isOver = true;
    };
  }, [of?.sources, files, given]);
  if (!of) return null;
  const change = (made: Change) => edit(made);
  return (
    <section class="import" aria-label="Files of the plan">
      <header>
        <h2 tabIndex={-1} ref={heading}>
          Files of the plan
        </h2>
        <span class="second small">
          the files stay as they are; the plan says what is read in a value's place
        </span>
      </header>
      <FileTable
        paths={[...new Set(of.sources.map(({ path }) => path))]}
        readings={readings}
        questions={[]}
        isReady={readings.length > 0}
        inPlan={new Set(of.sources.map(({ path }) => path))}
      />
      <BadRows
        readings={readings}
        type={(row, value) => change(withValue(of, row, value))}
        leaveOut={(row, reason) => change(withoutRow(of, row, reason))}
        takeBack={(row) => change(withoutMend(of, row))}
        isFixed={readOnly.value}
      />
      <ColumnTables
        readings={readings}
        isFixed={readOnly.value}
        choose={(path, heading, answer) => change(withColumn(of, path, heading, answer))}
      />
      <div class="actions">
        <button type="button" class="action" onClick={() => (filesShown.value = false)}>
          Back to the sheet
        </button>
      </div>
    </section>
  );
}
