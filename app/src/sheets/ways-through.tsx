import { type GuideMisfit, methodInWords, type PlanField } from "#core";
import { FigureLine } from "../parts/figure-line.tsx";
import { withMethod } from "../state/file-edits.ts";
import { misfitsIn } from "../state/guide-fit.ts";
import { withWayThrough } from "../state/need-edits.ts";
import { edit, plan, readOnly } from "../state/opened.ts";

/** A guide does not read the tests, and what leads on is known here: so once the field's tests are read. */
export const hasWaysThrough = (one: PlanField, code: string): boolean =>
  code === "finish-not-stated" ||
  (code === "test-method-mismatch" && misfitsIn(one, one.guide).some(({ error }) => error.code === code));

/** What leads on where a guide does not read a field's tests: each way one press away, beside another guide. */
export function WaysThrough({ one, code }: { readonly one: PlanField; readonly code: string }) {
  const misfits = misfitsIn(one, one.guide);
  const isOfFinish =
    code === "finish-not-stated" || misfits.some(({ error }) => error.code === "finish-not-stated");
  return (
    <>
      <p>
        {isOfFinish
          ? "Ask the laboratory how it read the Mehlich-3 extract, or choose a guide on the need sheet that reads the test as it is."
          : "Choose a guide on the need sheet that reads these tests, or:"}
      </p>
      {isOfFinish && one.samples !== undefined && <Finish path={one.samples} />}
      {misfits
        .filter(({ error }) => error.code === "test-method-mismatch")
        .map((misfit) => (
          <OfTest key={misfit.test} one={one} misfit={misfit} />
        ))}
    </>
  );
}

function Finish({ path }: { readonly path: string }) {
  return (
    <p class="answers">
      {(["mehlich-3-icp", "mehlich-3-colorimetric"] as const).map((method) => (
        <button
          key={method}
          type="button"
          class="aside"
          disabled={readOnly.value}
          onClick={() => edit(withMethod(plan.peek()!, path, "P", method))}
        >
          {methodInWords(method)}
        </button>
      ))}
    </p>
  );
}

function OfTest({ one, misfit }: { readonly one: PlanField; readonly misfit: GuideMisfit }) {
  const { test, nutrient, conversions, takesLevel } = misfit;
  return (
    <>
      {conversions.map(({ id, region, status }) => (
        <p key={id}>
          <button
            type="button"
            class="link"
            disabled={readOnly.value}
            onClick={() => edit(withWayThrough(plan.peek()!, one, nutrient, { conversion: id }))}
          >
            Convert soil {test} by {id}
          </button>{" "}
          <span class="second">
            {region}, {status}
          </span>
        </p>
      ))}
      {takesLevel && (
        <dl class="lines">
          <FigureLine
            label={`Your own critical level of soil ${test}`}
            unit="ppm"
            value={null}
            least={0.1}
            step={0.1}
            onTake={(ppm) => {
              if (ppm !== null) edit(withWayThrough(plan.peek()!, one, nutrient, { criticalLevelPpm: ppm }));
            }}
          />
        </dl>
      )}
    </>
  );
}
