import { useState } from "preact/hooks";
import { cropsOf, guideMarks, guides, type NeedRule, type Oxide } from "#core";
import { chosenField } from "../state/look.ts";
import {
  type Confirmation,
  withConfirmed,
  withCrop,
  withGuideOption,
  withNewOwnGuide,
} from "../state/need-edits.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { withGuide } from "../state/plan-edits.ts";
import { field } from "../state/results.ts";

/** Guide, crop and the answers the guide asks for; with how far its figures can be trusted. */
export function NeedGuide({ oxide }: { oxide: Oxide }) {
  const of = plan.value;
  const one = of?.fields.find(({ id }) => id === chosenField.value);
  if (!of || !one) return null;
  const own = of.ownGuides ?? [];
  const known = guides.filter((guide) => guide.id === one.guide || cropsOf(guide).includes(one.crop));
  const chosen = guides.find((guide) => guide.id === one.guide);
  const ownChosen = own.find(({ id }) => id === one.guide);
  const crops = chosen
    ? cropsOf(chosen)
    : [...new Set([...(ownChosen?.tables ?? []), ...(ownChosen?.lineTables ?? [])].map(({ crop }) => crop))];
  const options = (chosen?.options ?? []).filter(
    ({ nutrients, crops: only }) => nutrients.includes(oxide) && (only?.includes(one.crop) ?? true),
  );
  const other = one.nutrients?.[oxide]?.guide;
  return (
    <>
      <dl class="lines">
        <Line id="guide" label="Guide">
          <select
            id="guide"
            value={one.guide}
            disabled={readOnly.value}
            onChange={(event) => edit(withGuide(of, one, event.currentTarget.value))}
          >
            {known.map(({ id, title }) => (
              <option key={id} value={id}>
                {title}
              </option>
            ))}
            {own.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </Line>
        {other !== undefined && (
          <div>
            <dt>For this oxide alone</dt>
            <dd>{guides.find(({ id }) => id === other)?.title ?? other}</dd>
          </div>
        )}
        <Line id="crop" label="Crop">
          <select
            id="crop"
            value={one.crop}
            disabled={readOnly.value}
            onChange={(event) => edit(withCrop(of, one, event.currentTarget.value))}
          >
            {(crops.includes(one.crop) ? crops : [one.crop, ...crops]).map((crop) => (
              <option key={crop} value={crop}>
                {crop}
              </option>
            ))}
          </select>
        </Line>
        {options.map(({ key, question, choices }) => (
          <Line key={key} id={`option-${key}`} label={question}>
            <select
              id={`option-${key}`}
              value={one.guideOptions?.[key] ?? ""}
              disabled={readOnly.value}
              onChange={(event) => edit(withGuideOption(of, one, key, event.currentTarget.value))}
            >
              {one.guideOptions?.[key] === undefined && <option value="">not said</option>}
              {choices.map((choice) => (
                <option key={choice} value={choice}>
                  {choice}
                </option>
              ))}
            </select>
          </Line>
        ))}
      </dl>
      <GuideStanding rule={field.value?.need.rule[oxide] ?? null} />
      {own.length === 0 && (
        <button
          type="button"
          class="link small"
          disabled={readOnly.value || !field.value}
          onClick={() => edit(withNewOwnGuide(of, one, field.value!.ground.methods))}
        >
          Begin a table of your own
        </button>
      )}
    </>
  );
}

interface LineProps {
  readonly id: string;
  readonly label: string;
  readonly children: preact.ComponentChildren;
}

const Line = ({ id, label, children }: LineProps) => (
  <div>
    <dt>
      <label for={id}>{label}</label>
    </dt>
    <dd>{children}</dd>
  </div>
);

/** Where the guide's figures come from, and who compared them with the bulletin. */
function GuideStanding({ rule }: { rule: NeedRule | null }) {
  if (!rule) return <p class="small second">No guide is read: the rates are typed or the adviser's own.</p>;
  const { guide } = rule;
  const marks = guideMarks(guide);
  return (
    <>
      <p class="small second">
        {guide.publication}. {guide.region}. {guide.edition}.
        {marks !== "" && guide.status !== "unconfirmed"
          ? ` ${marks.charAt(0).toUpperCase()}${marks.slice(1)}.`
          : ""}
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
        <details>
          <summary>Which</summary>
          <ul>
            {guide.fromMemory.map((id) => (
              <li key={id}>{constantText(guide.id, id)}</li>
            ))}
          </ul>
        </details>
      )}
      <details>
        <summary>It was compared</summary>
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
      </details>
    </div>
  );
}

function constantText(guide: string, id: string): string {
  const constant = guides.find((one) => one.id === guide)?.constants[id];
  return constant ? `${constant.what}: ${constant.value} ${constant.unit}` : id;
}
