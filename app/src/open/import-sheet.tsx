import { useEffect, useRef } from "preact/hooks";
import { columnKey, counted, leaveOutKey, mendKey, type Notice } from "#core";
import { isPlanFile } from "../engine/plan-file.ts";
import type { NamedFile } from "../engine/protocol.ts";
import type { FileReading } from "../engine/read-files.ts";
import { Notices } from "../parts/notices.tsx";
import { titleOf } from "../parts/sheets.ts";
import { TroubleWords } from "../parts/trouble-words.tsx";
import { plan } from "../state/opened.ts";
import { here, writeHash } from "../state/route.ts";
import { AnswersTaken } from "./answers-taken.tsx";
import { BadRows } from "./bad-rows.tsx";
import {
  answerDrop,
  type Drop,
  drop,
  everyOne,
  joinOrBegin,
  leaveFileOut,
  openDrop,
  putBack,
  takeBack,
} from "./drop-state.ts";
import { ColumnTables, FileTable } from "./file-readings.tsx";
import { LeftOver } from "./left-over.tsx";
import { Questions } from "./questions.tsx";

/** What was dropped: how each file was read, open questions, rows left out. Nothing joins the plan until said so. */
export function ImportSheet() {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const now = drop.value;
  // A form that was answered is gone, and the focus with it.
  const open = now?.questions.map(({ key }) => key).join() ?? "";
  useEffect(() => {
    if (document.activeElement === document.body) heading.current?.focus();
  }, [open, now?.recognised]);
  if (!now) return null;
  const { files, recognised, questions, asked, answers, trouble, isReading, joins, readings } = now;
  const isOfRow =
    trouble !== null &&
    readings.some(
      ({ error, bad }) => error?.message === trouble.message && bad.some(({ mended }) => mended === null),
    );
  const addsNothing = joins && recognised?.change === "" && !recognised.asSaved;
  const count = `${counted(files.length, "file")} dropped`;
  return (
    <section class="import" aria-label="Files dropped">
      <header>
        <h2 tabIndex={-1} ref={heading}>
          {count}
        </h2>
        <span class="second small">nothing joins the plan until you say so</span>
      </header>
      <p class={isReading ? "" : "unseen"} role="status">
        {isReading ? "Reading …" : saidOf(count, questions.length, recognised !== null && !addsNothing)}
      </p>
      {writeHash(here.value) !== now.at && (
        <p class="doubt" role="status">
          {titleOf(here.value.sheet)} shows once this is finished, or with Add none.
        </p>
      )}
      <FileTable
        paths={pathsOf(files, readings)}
        readings={readings}
        questions={questions}
        isReady={recognised !== null}
        {...(recognised ? { inPlan: new Set(recognised.plan.sources.map(({ path }) => path)) } : {})}
        leave={{
          leftOut: now.leftOut,
          isFixed: isReading,
          change: (path, isLeft) => void leaveFileOut(path, isLeft),
        }}
      />
      <LeftOver readings={readings} joins={joins} />
      {plan.value && (
        <p>
          <button type="button" class="link" onClick={() => void joinOrBegin(!joins)}>
            {joins ? "Begin a new plan with these files instead" : "Join them to the open plan instead"}
          </button>
        </p>
      )}
      {questions.length > 0 && (
        <Questions questions={questions} isWaiting={isReading} answer={(given) => void answerDrop(given)} />
      )}
      <AnswersTaken
        questions={asked.filter(
          ({ key }) => key in answers && !everyOne(questions).some((one) => one.key === key),
        )}
        answers={answers}
        isFixed={isReading}
        change={(key) => void takeBack(key)}
      />
      {trouble && !isOfRow && (
        <div class="doubt" role="alert">
          <TroubleWords of={trouble} />
        </div>
      )}
      <BadRows
        readings={readings}
        isInTheWay={isOfRow}
        type={({ path, line, heading }, value) =>
          void answerDrop({ [mendKey(path, line, heading ?? "")]: value })
        }
        leaveOut={({ path, line }, reason) => void answerDrop({ [leaveOutKey(path, line)]: reason })}
        takeBack={({ mended }) => void (mended && takeBack(mended))}
      />
      <ColumnTables
        readings={readings}
        isFixed={isReading}
        choose={(path, heading, answer) => {
          const key = columnKey(path, heading);
          void (answer === null ? takeBack(key) : answerDrop({ [key]: answer }));
        }}
      />
      {recognised && <Notices notices={othersOf(recognised.notices, readings)} />}
      {addsNothing && (
        <p role="status">
          There is nothing to add
          {readings.some(({ unfit }) => unfit !== "") ? "" : ": the plan has it already"}.
        </p>
      )}
      <div class="actions">
        <button
          type="button"
          class="action"
          disabled={!recognised || isReading || addsNothing}
          onClick={() => openDrop()}
        >
          {joins ? "Add these files" : "Make the maps"}
        </button>
        {!recognised && !isReading && <span class="small second">{inTheWay(now)}</span>}
        <button type="button" class="aside" onClick={putBack}>
          Add none
        </button>
      </div>
    </section>
  );
}

/** What a reader of the screen hears once the files are read, and after each answer. */
const saidOf = (count: string, questions: number, isReady: boolean): string =>
  `${count}. ${questions > 0 ? `${counted(questions, "question")} open.` : isReady ? "Ready." : ""}`;

/** What is waited for before anything can be made of the files. */
function inTheWay({ readings, questions, trouble }: Drop): string {
  const unread = readings.filter(({ error }) => error !== null).map(({ path }) => path);
  if (unread.length > 0) {
    return `Waits for ${unread.join(", ")}, which cannot be read as ${unread.length === 1 ? "it stands" : "they stand"}: leave ${unread.length === 1 ? "it" : "them"} out, or mend what stands in the way.`;
  }
  if (questions.length > 0) return `Waits for ${counted(questions.length, "answer")}.`;
  return trouble === null ? "" : "Waits for what is said above.";
}

/** Files by the names they are read under: once they are, the parts of a shapefile are one. */
function pathsOf(files: readonly NamedFile[], readings: readonly FileReading[]): string[] {
  const given = files.map(([path]) => path);
  if (readings.length === 0) return given;
  return [...given.filter(isPlanFile), ...readings.map(({ path }) => path)];
}

/** Notices that no row's own lines say already. */
function othersOf(notices: readonly Notice[], readings: readonly FileReading[]): Notice[] {
  const said = new Set(readings.flatMap(({ path, bad }) => bad.map(({ message }) => `${path}, ${message}`)));
  return notices.filter(({ message }) => !said.has(message));
}
