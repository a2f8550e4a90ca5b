import { cropsOf, guides, type Oxide } from "#core";
import { PickLine } from "../parts/figure-line.tsx";
import { misfitsIn, misfitWords } from "../state/guide-fit.ts";
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
  const misfits = new Map(
    known.flatMap(({ id }) => {
      const found = misfitsIn(one, id);
      return found.length === 0 ? [] : [[id, misfitWords(found)] as const];
    }),
  );
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
        <PickLine
          label="Guide"
          value={one.guide}
          options={[
            ...known.filter(({ id }) => !misfits.has(id)).map(({ id, title }) => [id, title] as const),
            ...own.map(({ id, name }) => [id, name] as const),
          ]}
          others={{
            words: "These do not read the field's tests as they are",
            options: known
              .filter(({ id }) => misfits.has(id))
              .map(({ id, title }) => [id, `${title}: ${misfits.get(id)}`] as const),
          }}
          onChoose={(guide) => edit(withGuide(of, one, guide))}
        />
        {other !== undefined && (
          <div>
            <dt>For this oxide alone</dt>
            <dd>{guides.find(({ id }) => id === other)?.title ?? other}</dd>
          </div>
        )}
        <PickLine
          label="Crop"
          value={one.crop}
          options={(crops.includes(one.crop) ? crops : [one.crop, ...crops]).map(
            (crop) => [crop, crop] as const,
          )}
          onChoose={(crop) => edit(withCrop(of, one, crop))}
        />
        {options.map(({ key, question, choices }) => (
          <PickLine
            key={key}
            label={question}
            value={one.guideOptions?.[key] ?? ""}
            options={[
              ...(one.guideOptions?.[key] === undefined ? [["", "not told"] as const] : []),
              ...choices.map((choice) => [choice, choice] as const),
            ]}
            onChoose={(choice) => edit(withGuideOption(of, one, key, choice))}
          />
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
