import { cropsOf, guides, type Oxide } from "#core";
import { planField } from "../state/look.ts";
import { withCrop, withGuideOption, withNewOwnGuide } from "../state/need-edits.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { withGuide } from "../state/plan-edits.ts";
import { field } from "../state/results.ts";

/** Guide, crop and the answers the guide asks for; with how far its figures can be trusted. */
export function NeedGuide({ oxide }: { oxide: Oxide }) {
  const of = plan.value;
  const one = planField.value;
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
