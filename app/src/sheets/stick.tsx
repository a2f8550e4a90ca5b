import { useEffect, useState } from "preact/hooks";
import { firstOf, loadFirstInWords, type StickMap, type StickPass, sheetsOfEarlier } from "#core";
import { Questions } from "../open/questions.tsx";
import { Choices } from "../parts/choices.tsx";
import { Fold } from "../parts/fold.tsx";
import { opened, plan, readOnly } from "../state/opened.ts";
import { refusal } from "../state/results.ts";
import {
  answerStick,
  canWriteFolders,
  chooseAndWrite,
  markField,
  recallSticks,
  stickRecord,
  stickState,
} from "../state/stick.ts";
import { isMadeFor } from "../state/take-maps.ts";
import type { StickTold } from "../stick/put-on-stick.ts";

/** Write the maps to a stick, of all fields and for one machine. */
export function StickPart() {
  const [pass, setPass] = useState<StickPass>("strip");
  const [reissue, setReissue] = useState(false);
  const state = stickState.value;
  const origin = opened.value?.origin;
  useEffect(() => void recallSticks(), [origin]);
  if (!canWriteFolders()) {
    return (
      <p class="small second">
        This browser cannot write into a folder. Take the zip, unpack it on the stick, and eject before
        pulling it out.
      </p>
    );
  }
  return (
    <section aria-label="Stick">
      <h3>Write to a stick</h3>
      <Choices
        about="Machine the stick is for"
        value={pass}
        options={[
          ["strip", "strip rig"],
          ["broadcast", "spreader"],
        ]}
        onChoose={setPass}
      />
      <Marks pass={pass} reissue={reissue} onReissue={setReissue} />
      <p>
        <button
          type="button"
          class="aside"
          disabled={state.kind === "writing" || readOnly.value || refusal.value !== null}
          onClick={() => void chooseAndWrite(pass, reissue)}
        >
          {state.kind === "writing" ? state.words : "Choose the stick's folder"}
        </button>
      </p>
      {state.kind === "denied" && (
        <div class="doubt" role="alert">
          <p>
            <b>The browser does not let this page write into a folder.</b> It says: {state.why}
          </p>
          <p>
            Nothing was written. Allow it in the browser's settings of this page and choose again, or download
            the zip, unpack it on the stick, and eject before pulling it out.
          </p>
        </div>
      )}
      {state.kind === "asks" && (
        <Questions
          questions={state.questions}
          isWaiting={false}
          answer={(given) => void answerStick(pass, reissue, given)}
        />
      )}
      {state.kind === "written" && isMadeFor(state.of) && <Written told={state.told} folder={state.folder} />}
    </section>
  );
}

interface MarksProps {
  readonly pass: StickPass;
  readonly reissue: boolean;
  readonly onReissue: (reissue: boolean) => void;
}

/** Fields that are in the display or worked; they are not written again unless it is asked for. */
function Marks({ pass, reissue, onReissue }: MarksProps) {
  const { marks } = stickRecord.value[pass];
  const count = Object.keys(marks).length;
  return (
    <Fold class="small" title={count === 0 ? "No field loaded or done" : `${count} loaded or done`}>
      {() => (
        <>
          <dl class="lines">
            {plan.value!.fields.map(({ id, name }) => (
              <div key={id}>
                <dt>{name}</dt>
                <dd>
                  <select
                    aria-label={`State of ${name}`}
                    value={marks[id] ?? "open"}
                    onChange={(event) =>
                      void markField(pass, id, event.currentTarget.value as "open" | "loaded" | "done")
                    }
                  >
                    <option value="open">open</option>
                    <option value="loaded">loaded</option>
                    <option value="done">done</option>
                  </select>
                </dd>
              </div>
            ))}
          </dl>
          <label>
            <input
              type="checkbox"
              checked={reissue}
              onChange={(event) => onReissue(event.currentTarget.checked)}
            />{" "}
            Write loaded, done and stripped fields again too
          </label>
        </>
      )}
    </Fold>
  );
}

function Written({ told, folder }: { told: StickTold; folder: string }) {
  const { stick, holes, heldBack, look, older, movedTaskData } = told;
  const neverLoad = stick.neverLoad ?? [];
  const said = [...look.said, ...told.earlier];
  const earlier = new Set(stick.maps.flatMap((map) => (map.ofEarlierPlan ? [map.field] : [])));
  const strangers = told.beside.filter((one) => !older.includes(one));
  return (
    <div role="status">
      <p>
        <b>
          Revision {stick.revision} on {folder === "" ? "the stick" : folder}:
        </b>{" "}
        {told.files} files and their manifest written and read back; eject before pulling it out; test-load
        today.
      </p>
      <Loads
        title="To load first:"
        pass={stick.pass}
        maps={stick.maps.filter(({ field }) => !earlier.has(field))}
      />
      <Loads
        pass={stick.pass}
        title={`Of an earlier plan, as they were loaded; ${sheetsOfEarlier(stick.maps).join(", ")} holds for them, not this one:`}
        maps={stick.maps.filter(({ field }) => earlier.has(field))}
      />
      {said.length > 0 && (
        <p class="doubt">
          <b>Look before loading:</b> {said.join("; ")}.
        </p>
      )}
      {holes !== "" && <p>{holes}</p>}
      {heldBack.length > 0 && (
        <p class="small">
          Not written again: {heldBack.map(({ field, mark }) => `${nameOf(field)}, ${mark}`).join("; ")}.
        </p>
      )}
      {look.finished.length > 0 && (
        <p class="small">Left out, finished by the plan's ledger: {look.finished.join(", ")}.</p>
      )}
      {look.stripped.length > 0 && (
        <p class="small">Left out, as nothing is left to load: {look.stripped.join("; ")}.</p>
      )}
      {older.length > 0 && (
        <p class="small">
          Older maps of these fields are on it; take them off once no display needs them: {older.join(", ")}.
        </p>
      )}
      {neverLoad.length > 0 && (
        <p class="doubt">
          Left out and never to be loaded, a rate 0 is in it, which this controller must not get:{" "}
          {firstOf(neverLoad).join(", ")}.
        </p>
      )}
      {strangers.length > 0 && (
        <p class="small">Not of this set, and not to be loaded: {firstOf(strangers).join(", ")}.</p>
      )}
      {told.catchUps.length > 0 && (
        <p class="small">
          Not of this set: catch-up maps, each to be loaded for its own field:{" "}
          {firstOf(told.catchUps).join(", ")}.
        </p>
      )}
      {movedTaskData !== null && (
        <p class="small">The TASKDATA that was there is now {movedTaskData}; it may hold logs.</p>
      )}
    </div>
  );
}

const nameOf = (id: string): string => plan.value?.fields.find((field) => field.id === id)?.name ?? id;

/** Maps by the names they have on the stick; nothing where there are none. */
function Loads({
  title,
  pass,
  maps,
}: {
  readonly title: string;
  readonly pass: StickPass;
  readonly maps: readonly StickMap[];
}) {
  if (maps.length === 0) return null;
  return (
    <>
      <p class="small">{title}</p>
      <ul class="small">
        {maps.map((map) => {
          const { name, figures } = loadFirstInWords(pass, map);
          return (
            <li key={map.stem}>
              {name}: {nameOf(map.field)}, {figures}
            </li>
          );
        })}
      </ul>
    </>
  );
}
