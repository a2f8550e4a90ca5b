import { useState } from "preact/hooks";
import { capital, guideMarks, guides, type NeedRule, type Oxide } from "#core";
import { Fold } from "../parts/fold.tsx";
import { type Confirmation, withConfirmed } from "../state/need-edits.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";

/** Where the guide's figures come from, and who compared them with the bulletin. */
export function GuideStanding({ oxide }: { oxide: Oxide }) {
  const shown = field.value;
  if (!shown) return null;
  const rule = shown.need.rule[oxide];
  if (!rule) return <p class="small second">No guide is read: the rates are typed or the adviser's own.</p>;
  const { guide } = rule;
  if (guide.status === "own")
    return (
      <p class="small second">
        Your own table: nobody else has checked it, and it does not hang on the yield.
      </p>
    );
  const marks = guideMarks(guide);
  return (
    <>
      <p class="small second">
        {guide.publication}. {guide.region}. {guide.edition}.
        {marks !== "" && guide.status !== "unconfirmed" ? ` ${capital(marks)}.` : ""}
      </p>
      {guide.supersededBy !== null && (
        <p class="doubt">
          <b>Superseded</b> by {guide.supersededBy}.
        </p>
      )}
      {guide.overridden.length > 0 && (
        <ul class="small">
          {guide.overridden.map(({ id, what, unit, value, published }) => (
            <li key={id}>
              {what}: yours {value}, the guide's {published} {unit}
            </li>
          ))}
        </ul>
      )}
      {guide.status === "unconfirmed" && <Unconfirmed rule={rule} />}
      {guide.status === "confirmed" && (
        <button
          type="button"
          class="link small"
          disabled={readOnly.value}
          onClick={() => edit(withConfirmed(plan.value!, guide.id, null))}
        >
          Take the confirmation back
        </button>
      )}
    </>
  );
}

/** Stays until somebody enters who compared it with which page on which date. */
function Unconfirmed({ rule: { guide } }: { rule: NeedRule }) {
  const [given, setGiven] = useState<Confirmation>({ by: "", page: "", date: "" });
  const isWhole = given.by.trim() !== "" && given.page.trim() !== "" && /^\d{4}-\d\d-\d\d$/.test(given.date);
  const count = guide.fromMemory.length;
  const asked = [
    ["by", "Compared by", "text"],
    ["page", "Bulletin page or table", "text"],
    ["date", "On", "date"],
  ] as const;
  return (
    <div class="doubt">
      <p>
        <b>Unconfirmed:</b>{" "}
        {count === 0
          ? "figures of this guide are from memory."
          : `${count} of the figures used ${count === 1 ? "is" : "are"} from memory.`}{" "}
        Compare with your bulletin.
      </p>
      {count > 0 && (
        <Fold title="Which">
          {() => (
            <ul>
              {guide.fromMemory.map((id) => (
                <li key={id}>{constantText(guide.id, id)}</li>
              ))}
            </ul>
          )}
        </Fold>
      )}
      <Fold title="It was compared">
        {() => (
          <form
            class="confirm"
            onSubmit={(event) => {
              event.preventDefault();
              if (isWhole) edit(withConfirmed(plan.peek()!, guide.id, given));
            }}
          >
            {asked.map(([key, label, type]) => (
              <label key={key}>
                {label}
                <input
                  type={type as "text"}
                  value={given[key]}
                  disabled={readOnly.value}
                  onInput={(event) => setGiven({ ...given, [key]: event.currentTarget.value })}
                />
              </label>
            ))}
            <button type="submit" disabled={!isWhole || readOnly.value}>
              Enter it in the plan
            </button>
          </form>
        )}
      </Fold>
    </div>
  );
}

function constantText(guide: string, id: string): string {
  const constant = guides.find((one) => one.id === guide)?.constants[id];
  return constant ? `${constant.what}: ${constant.value} ${constant.unit}` : id;
}
