import { useEffect, useRef } from "preact/hooks";
import { Notices } from "../parts/notices.tsx";
import { plan } from "../state/opened.ts";
import { drop, joinOrBegin, openDrop, putBack } from "./drop-state.ts";
import { Questions } from "./questions.tsx";

/** What was dropped: how each file was read, open questions, rows left out. Nothing joins the plan until said so. */
export function ImportSheet() {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const now = drop.value;
  if (!now) return null;
  const { files, recognised, questions, trouble, isReading, joins } = now;
  const count = `${files.length} ${files.length === 1 ? "file" : "files"} dropped`;
  return (
    <section class="import" aria-label="Files dropped">
      <header>
        <h2 tabIndex={-1} ref={heading}>
          {count}
        </h2>
        <span class="second small">nothing joins the plan until you say so</span>
      </header>
      {isReading && <p role="status">Reading …</p>}
      <FileTable />
      {plan.value && (
        <p>
          <button type="button" class="link" onClick={() => void joinOrBegin(!joins)}>
            {joins ? "Begin a new plan with these files instead" : "Join them to the open plan instead"}
          </button>
        </p>
      )}
      {questions.length > 0 && <Questions questions={questions} isWaiting={isReading} />}
      {trouble && (
        <div class="doubt" role="alert">
          <p>
            <b>{trouble.message}</b>
          </p>
          <p>{trouble.remedy}</p>
        </div>
      )}
      {recognised && <Notices notices={recognised.notices} />}
      <div class="actions">
        <button type="button" class="action" disabled={!recognised || isReading} onClick={() => openDrop()}>
          {joins ? "Add these files" : "Make the maps"}
        </button>
        <button type="button" class="aside" onClick={putBack}>
          Add none
        </button>
      </div>
    </section>
  );
}

/** A line a file; once read, how it was read. */
function FileTable() {
  const { files, recognised, questions, trouble } = drop.value!;
  const lines = new Map(
    (recognised?.recognised ?? []).map((line) => {
      const at = line.indexOf(": ");
      return [line.slice(0, at), line.slice(at + 2)] as const;
    }),
  );
  const state = (path: string): string => {
    if (trouble?.message.includes(path)) return "not read";
    const asked = questions.filter((question) => question.seen.includes(path)).length;
    if (asked > 0) return `${asked} ${asked === 1 ? "question" : "questions"}`;
    return recognised ? "✓ ready" : "";
  };
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">file</th>
          <th scope="col">read as</th>
          <th scope="col" class="figure">
            state
          </th>
        </tr>
      </thead>
      <tbody>
        {files.map(([path, bytes]) => (
          <tr key={path}>
            <th scope="row">{path}</th>
            <td>{lines.get(path) ?? `${bytes.length.toLocaleString("en-US")} bytes`}</td>
            <td class="figure">{state(path)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
