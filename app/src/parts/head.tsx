import { useEffect, useRef } from "preact/hooks";
import { askForFiles } from "../open/choose-files.ts";
import { filesShown } from "../open/files-sheet.tsx";
import { editsShown } from "../state/compare.ts";
import { area, scope, words } from "../state/figures.ts";
import { ledgersApart } from "../state/ledgers.ts";
import { planField, stepField } from "../state/look.ts";
import { lastEdit, nextEdit, opened, plan, readOnly, redo, undo } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { savePlanFile } from "../state/save-plan.ts";
import { savedText } from "../state/session.ts";
import { change, settings } from "../state/settings.ts";
import { Choices } from "./choices.tsx";
import { EditsButton } from "./edits-panel.tsx";
import { BermSign } from "./sign.tsx";

/** Whose maps these are, the last edit, what is saved, and how the page shows itself. */
export function Head() {
  return (
    <header class="head">
      <BermSign />
      <div class="name">
        <h1>bermplan</h1>
        {plan.value && (
          <>
            <span class="bar" aria-hidden="true">
              |
            </span>
            <About />
          </>
        )}
      </div>
      <div class="tools">
        {plan.value && <Undoing />}
        {plan.value && (
          <span class="second long" role="status">
            {savedText.value}
          </span>
        )}
        <More />
      </div>
    </header>
  );
}

function About() {
  const of = plan.value!;
  const one = planField.value;
  if (scope.value === "farm" || !one) return <span class="about">{of.name}</span>;
  const shown = field.value?.id === one.id ? `, ${area(field.value.areaAc)} ${words().area}` : "";
  return (
    <>
      <span class="about">
        {one.name}
        {shown}
      </span>
      {of.fields.length > 1 && (
        <>
          <button type="button" class="plain arrow" onClick={() => stepField(-1)} aria-label="Field before">
            ‹
          </button>
          <button type="button" class="plain arrow" onClick={() => stepField(1)} aria-label="Field after">
            ›
          </button>
        </>
      )}
    </>
  );
}

function Undoing() {
  const last = lastEdit.value;
  const next = nextEdit.value;
  const pressed = useRef(0);
  return (
    <>
      <button
        type="button"
        class="plain"
        onPointerDown={(event) => {
          pressed.current = event.timeStamp;
        }}
        onClick={(event) => {
          const isLong = event.detail > 0 && event.timeStamp - pressed.current > LONG_MS;
          if (isLong) editsShown.value = true;
          else undo();
        }}
        disabled={!last || readOnly.value}
        title={last?.name ?? ""}
      >
        Undo
        <span class="long">{last ? `: ${last.name}` : ""}</span>
      </button>
      <button
        type="button"
        class="plain"
        onClick={redo}
        disabled={!next || readOnly.value}
        title={next?.name ?? ""}
      >
        Redo
      </button>
      <EditsButton />
    </>
  );
}

/** Held this long, Undo lists the edits instead, ms. */
const LONG_MS = 600;

/** A fold over the page closes by Escape, by a press elsewhere and with the next sheet. Returns what ends that. */
function closingByItself(fold: { readonly current: HTMLDetailsElement | null }): () => void {
  const close = (event: Event) => {
    const one = fold.current;
    if (!one?.open || (event.target instanceof Node && one.contains(event.target))) return;
    one.open = false;
  };
  const closeByKey = (event: KeyboardEvent) => {
    const one = fold.current;
    if (event.key !== "Escape" || !one?.open) return;
    event.stopPropagation();
    one.open = false;
    const at = document.activeElement;
    if (at === document.body || one.contains(at)) one.querySelector("summary")?.focus();
  };
  globalThis.addEventListener("pointerdown", close, true);
  globalThis.addEventListener("hashchange", close);
  globalThis.addEventListener("keydown", closeByKey, true);
  return () => {
    globalThis.removeEventListener("pointerdown", close, true);
    globalThis.removeEventListener("hashchange", close);
    globalThis.removeEventListener("keydown", closeByKey, true);
  };
}

/** Units, theme, files and keys. */
function More() {
  const { system, theme, keys } = settings.value;
  const more = useRef<HTMLDetailsElement>(null);
  useEffect(() => closingByItself(more), []);
  return (
    <>
      <button
        type="button"
        class="plain long"
        onClick={() => change({ system: system === "us" ? "metric" : "us" })}
        aria-label={system === "us" ? "Units: lb/ac. Show kg/ha" : "Units: kg/ha. Show lb/ac"}
      >
        {system === "us" ? "lb, ac" : "kg, ha"}
      </button>
      <button
        type="button"
        class="plain"
        onClick={() => change({ theme: theme === "light" ? "sun" : "light" })}
        aria-label={theme === "light" ? "Theme: light. Show Sun" : "Theme: sun. Show Light"}
      >
        {theme === "light" ? "Sun" : "Light"}
      </button>
      {plan.value && (
        <>
          <button type="button" class="plain long" onClick={askForFiles} disabled={readOnly.value}>
            Add files
          </button>
          <button
            type="button"
            class="plain long"
            onClick={savePlanFile}
            disabled={ledgersApart.value !== null}
          >
            Save plan file
          </button>
        </>
      )}
      <details class="more" ref={more}>
        <summary>More</summary>
        <div>
          <Choices
            about="Units on this page"
            value={system}
            options={[
              ["us", "lb/ac, ac"],
              ["metric", "kg/ha, ha"],
            ]}
            onChoose={(chosen) => change({ system: chosen })}
          />
          <label>
            <input type="checkbox" checked={keys} onChange={() => change({ keys: !keys })} /> Keys switched on
          </label>
          {plan.value && (
            <>
              <span class="small second">{savedText.value}</span>
              <button type="button" class="plain" onClick={askForFiles} disabled={readOnly.value}>
                Add files
              </button>
              <button
                type="button"
                class="plain"
                onClick={savePlanFile}
                disabled={ledgersApart.value !== null}
              >
                Save plan file
              </button>
              <button type="button" class="plain" onClick={() => (filesShown.value = true)}>
                Files of the plan
              </button>
              <span class="small second">{opened.value?.name}</span>
            </>
          )}
          <span class="small second">
            Keys: 0 to 8 sheets, F finds a field, comma and period field before and after, arrows on the plat,
            Enter pins, plus and minus zoom, T table, [ and ] before and now, Ctrl+Z undo, Ctrl+Shift+Z redo,
            Alt and arrow down edits, Esc closes.
          </span>
          <span class="small second">
            bermplan {__TOOL_VERSION__}. Needs no internet while bermplan serve runs. Nothing leaves this
            computer.
          </span>
        </div>
      </details>
    </>
  );
}
