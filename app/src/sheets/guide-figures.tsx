import { useState } from "preact/hooks";
import { type Constant, guides, type Oxide } from "#core";
import { DraftInput } from "../parts/draft-input.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { Fold } from "../parts/fold.tsx";
import { takeNumber } from "../parts/take-number.ts";
import { withGuideFigure } from "../state/need-edits.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";

/** The guide's figures with source and status; one of the user's may stand in place of each. */
export function GuideFigures({ oxide }: { oxide: Oxide }) {
  const [isWhole, setWhole] = useState(false);
  const rule = field.value?.need.rule[oxide];
  const guide = guides.find(({ id }) => id === rule?.guide.id);
  if (!rule || !guide) return null;
  const shown = isWhole ? Object.keys(guide.constants) : rule.guide.used;
  return (
    <Fold class="small" title="Figures of the guide">
      {() => (
        <>
          <p class="second">
            A figure of your own holds in every field that follows this guide. The guide's own stays beside
            it.
          </p>
          <label>
            <input
              type="checkbox"
              checked={isWhole}
              onChange={(event) => setWhole(event.currentTarget.checked)}
            />
            <span>Also those not used for this oxide here</span>
          </label>
          <table class="own">
            <thead>
              <tr>
                <th scope="col">figure</th>
                <FigureHeads of={["guide's", "yours"]} />
              </tr>
            </thead>
            <tbody>
              {shown.map((id) => (
                <FigureRow
                  key={id}
                  guide={guide.id}
                  id={id}
                  constant={guide.constants[id]!}
                  source={guide.sources[guide.constants[id]!.source] ?? guide.constants[id]!.source}
                />
              ))}
            </tbody>
          </table>
        </>
      )}
    </Fold>
  );
}

interface FigureRowProps {
  readonly guide: string;
  readonly id: string;
  readonly constant: Constant;
  readonly source: string;
}

function FigureRow({ guide, id, constant, source }: FigureRowProps) {
  const own = plan.value?.guides?.find((one) => one.id === guide)?.constants?.[id];
  const { what, unit, value, status } = constant;
  return (
    <tr>
      <th scope="row">
        {what}, {unit === "-" ? "no unit" : unit}
        {own !== undefined && <b> overridden</b>}
        <span class="under">
          {status}: {source}
        </span>
      </th>
      <td class="figure">{value}</td>
      <td class="figure">
        <DraftInput
          type="number"
          aria-label={`Own figure for ${what}`}
          value={own === undefined ? "" : String(own)}
          disabled={readOnly.value}
          onTake={(text) => {
            const take = (figure: number | null) => {
              if (figure !== (own ?? null)) edit(withGuideFigure(plan.peek()!, guide, { id, what }, figure));
            };
            const limits = { least: 0, most: Number.POSITIVE_INFINITY, unit: unit === "-" ? "" : unit };
            if (text.trim() !== "") return takeNumber(text, limits, take);
            take(null);
            return null;
          }}
        />
      </td>
    </tr>
  );
}
