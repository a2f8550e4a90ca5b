import { useRef } from "preact/hooks";
import { baseline, compared, editsShown } from "../state/compare.ts";
import { scope } from "../state/figures.ts";
import { canCompare, howFarBack, isComparing } from "../state/map-before.ts";
import { history, readOnly, undoTo } from "../state/opened.ts";
import { FigureHeads } from "./figure-heads.tsx";
import { Panel } from "./panel.tsx";

/** The list of edits opens by this button, by Alt and arrow down, and by a long press on Undo. */
export function EditsButton() {
  const button = useRef<HTMLButtonElement>(null);
  const count = history.value?.past.length ?? 0;
  const close = () => {
    editsShown.value = false;
    button.current?.focus();
  };
  return (
    <span class="edits">
      <button
        type="button"
        class="plain"
        ref={button}
        aria-expanded={editsShown.value}
        aria-haspopup="dialog"
        onClick={() => (editsShown.value = !editsShown.value)}
      >
        Edits{count > 0 ? `, ${count}` : ""}
      </button>
      {editsShown.value && <EditsPanel close={close} />}
    </span>
  );
}

/** Before and now, and every edit between, the newest first. */
function EditsPanel({ close }: { close: () => void }) {
  const past = history.value?.past ?? [];
  return (
    <Panel class="edits-panel" about="Edits, before and now" close={close}>
      <h2>Before and now</h2>
      {past.length === 0 ? <p>No edit yet: the plan is as it was opened.</p> : <Comparison />}
      {canCompare.value && (
        <button
          type="button"
          onClick={() => {
            howFarBack.value = "baseline";
            isComparing.value = true;
            close();
          }}
        >
          Both on the map
        </button>
      )}
      {past.length > 0 && (
        <>
          <h3>What was changed</h3>
          <ol class="edit-list" reversed>
            {past
              .map(({ name }, place) => (
                <li key={place}>
                  <span>{name}</span>
                  <button
                    type="button"
                    class="link small"
                    disabled={readOnly.value}
                    aria-label={`Back to before this: ${name}`}
                    onClick={(event) => {
                      undoTo(place);
                      event.currentTarget.closest<HTMLElement>("[role=dialog]")?.focus();
                    }}
                  >
                    Back to before this
                  </button>
                </li>
              ))
              .toReversed()}
          </ol>
        </>
      )}
    </Panel>
  );
}

function Comparison() {
  const lines = compared.value;
  const base = baseline.value;
  if (!lines || !base) return <p role="status">The plan before is being worked out.</p>;
  return (
    <table class="compared">
      <caption>{scope.value === "field" ? "this field" : "whole farm"}</caption>
      <thead>
        <tr>
          <th scope="col">total</th>
          <FigureHeads of={["difference", base.words, "now"]} />
        </tr>
      </thead>
      <tbody>
        {lines.map(({ what, difference, before, now }) => (
          <tr key={what}>
            <th scope="row">{what}</th>
            <td class="figure">{difference === "same" ? difference : <b>{difference}</b>}</td>
            <td class="figure second">{before}</td>
            <td class="figure">
              <b>{now}</b>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
