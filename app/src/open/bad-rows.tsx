import { useState } from "preact/hooks";
import type { BadRow, FileReading } from "../engine/read-files.ts";
import { RowsPlat } from "./rows-plat.tsx";

interface MendProps {
  /** Read this value in the cell's place. */
  readonly type: (row: BadRow, value: string) => void;
  readonly leaveOut: (row: BadRow, reason: string) => void;
  readonly takeBack: (row: BadRow) => void;
  readonly isFixed?: boolean;
  /** Nothing can be mapped before one of these rows is mended. */
  readonly isInTheWay?: boolean;
}

/** Rows of one kind shown at once; the others are folded. */
const SHOWN = 6;

/** Rows that could not be used as they stand, with what can be done; the file itself stays as it is. */
export function BadRows({
  readings,
  isInTheWay = false,
  ...mend
}: { readings: readonly FileReading[] } & MendProps) {
  const rows = readings.flatMap(({ bad }) => bad);
  if (rows.length === 0) return null;
  const line = (row: BadRow) => (
    <Row key={`${row.path} ${row.line} ${row.heading} ${row.message}`} row={row} {...mend} />
  );
  return (
    <section aria-label="Rows to look at" role={isInTheWay ? "alert" : undefined}>
      <h3>Rows to look at</h3>
      <RowsPlat readings={readings} />
      {rows.slice(0, SHOWN).map(line)}
      {rows.length > SHOWN && (
        <details>
          <summary>{rows.length - SHOWN} more rows</summary>
          {rows.slice(SHOWN).map(line)}
        </details>
      )}
    </section>
  );
}

function Row({ row, type, leaveOut, takeBack, isFixed = false }: { row: BadRow } & MendProps) {
  const { path, line, heading, message, remedy, mended } = row;
  const [value, setValue] = useState(row.value);
  const [reason, setReason] = useState("");
  const where = `${path}, line ${line}${heading === null ? "" : `, column ${heading}`}`;
  return (
    <div class={mended === null && !row.counts ? "doubt bad-row" : "remark bad-row"}>
      <p>
        <b>{path}</b>, {message} {mended === null && remedy}
      </p>
      {mended !== null ? (
        <button type="button" class="link" disabled={isFixed} onClick={() => takeBack(row)}>
          As in the file
        </button>
      ) : (
        <div class="answers">
          {heading !== null && (
            <form
              onSubmit={(event) => {
                event.preventDefault();
                if (value.trim() !== "") type(row, value.trim());
              }}
            >
              <input
                type="text"
                size={8}
                aria-label={`${where}, value`}
                value={value}
                onInput={(event) => setValue(event.currentTarget.value)}
              />
              <button
                type="submit"
                class="aside"
                disabled={isFixed || value.trim() === "" || value === row.value}
              >
                Use this value
              </button>
            </form>
          )}
          <form
            onSubmit={(event) => {
              event.preventDefault();
              if (reason.trim() !== "") leaveOut(row, reason.trim());
            }}
          >
            <input
              type="text"
              size={18}
              placeholder="why"
              aria-label={`${where}, why it is left out`}
              value={reason}
              onInput={(event) => setReason(event.currentTarget.value)}
            />
            <button type="submit" class="aside" disabled={isFixed || reason.trim() === ""}>
              Leave row {line} out
            </button>
          </form>
        </div>
      )}
    </div>
  );
}
