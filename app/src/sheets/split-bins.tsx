import { capital, ownProducts, type PlanBlend, products } from "#core";
import { FigureLine, PickLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { edit, plan, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { withBinsAlone, withBlend, withOneBlend, withProduct } from "../state/split-edits.ts";

/** What each bin holds; a blend with its ratio, batch and what to mind. */
export function SplitBins() {
  const of = plan.value!;
  const all = [...products, ...ownProducts(of)].filter(({ grade }) => grade.p2o5 > 0 || grade.k2o > 0);
  const used = of.rig.bins.map((bin) => bin.product);
  const blendIds = (of.blends ?? []).map((blend) => blend.id);
  const canBlend = blendIds.length === 0 && of.rig.bins.length >= 2;
  return (
    <Fold title="Products and blend" startsOpen={blendIds.length > 0}>
      <dl class="lines">
        {of.rig.bins
          .filter((bin) => bin.flatLbPerAc === undefined)
          .map((bin) => (
            <PickLine
              key={bin.id}
              label={`Bin ${bin.id}`}
              value={bin.product}
              options={[
                ...blendIds.map((id) => [id, `blend ${id}`] as const),
                ...all
                  .filter(({ id }) => id === bin.product || !used.includes(id))
                  .map(({ id, name }) => [id, `${id}, ${name}`] as const),
              ]}
              onChoose={(product) => edit(withProduct(of, bin.id, product))}
            />
          ))}
      </dl>
      {of.rig.bins
        .filter((bin) => bin.flatLbPerAc !== undefined)
        .map((bin) => (
          <p key={bin.id} class="small">
            Bin {bin.id}: {bin.product}, {bin.flatLbPerAc} lb/ac everywhere.
          </p>
        ))}
      {canBlend && (
        <button type="button" disabled={readOnly.value} onClick={() => edit(withOneBlend(of))}>
          One bin, one blend
        </button>
      )}
      {(of.blends ?? []).map((blend) => (
        <BlendLines key={blend.id} blend={blend} />
      ))}
    </Fold>
  );
}

function BlendLines({ blend }: { blend: PlanBlend }) {
  const of = plan.value!;
  const told = field.value?.split?.blends ?? [];
  const change = (patch: Partial<PlanBlend>, name: string) => edit(withBlend(of, blend.id, patch, name));
  return (
    <>
      <dl class="lines">
        {blend.fit !== "typed" && (
          <PickLine
            label="Its ratio"
            value={blend.fit}
            options={[
              ["cover-both", "covers both needs, least excess"],
              ["least-misfit", "least too much and too little"],
            ]}
            onChoose={(fit) =>
              change(
                { fit: fit as "cover-both" | "least-misfit" },
                `blend ${blend.id}: ${fit.replace("-", " ")}`,
              )
            }
          />
        )}
        <PickLine
          label="Every place gets"
          value={blend.rate ?? (blend.fit === "typed" ? "no-excess" : blend.fit)}
          options={[
            ["no-excess", "no more than either need; the rest is broadcast"],
            ["cover-both", "enough for both needs"],
            ["least-misfit", "what costs least by too much and too little"],
          ]}
          onChoose={(rate) =>
            change(
              { rate: rate as NonNullable<PlanBlend["rate"]> },
              `blend ${blend.id} rated: ${rate.replace("-", " ")}`,
            )
          }
        />
        {blend.fit !== "typed" && of.fields.length > 1 && (
          <FigureLine
            label="Ratios over the fields, one a field"
            unit=""
            value={blend.ratios ?? null}
            least={1}
            most={6}
            otherwise="1"
            onTake={(ratios) =>
              edit(
                withBlend(
                  of,
                  blend.id,
                  { ratios: ratios === null || ratios === 1 ? null : Math.round(ratios) },
                  `blend ${blend.id}: ${ratios ?? 1} ratios`,
                ),
              )
            }
          />
        )}
        <FigureLine
          label="Batch"
          unit="lb"
          value={blend.batchLb ?? null}
          least={100}
          otherwise="not rounded"
          onTake={(batchLb) => edit(withBlend(of, blend.id, { batchLb }, `batch of ${batchLb ?? "no"} lb`))}
        />
        <FigureLine
          label="The scale is read to"
          unit="lb"
          value={blend.stepLb ?? null}
          least={1}
          otherwise="20, unconfirmed"
          onTake={(stepLb) => edit(withBlend(of, blend.id, { stepLb }, `scale read to ${stepLb ?? 20} lb`))}
        />
      </dl>
      {told.flat().map((line) => (
        <p key={line.label + line.text} class="small">
          <strong>{line.label}.</strong> {capital(line.text)}
        </p>
      ))}
      <button type="button" disabled={readOnly.value} onClick={() => edit(withBinsAlone(of))}>
        A bin for each product
      </button>
    </>
  );
}
