import { useState } from "preact/hooks";
import { capital, oxideText, type PlanSeed } from "#core";
import { FigureLine, PickLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { edit, plan, readOnly } from "../state/opened.ts";
import { field } from "../state/results.ts";
import { said } from "../state/said.ts";
import { withSeed } from "../state/split-edits.ts";
import { today } from "../state/today.ts";

/** What lies near the seed: what was answered, the step of the ladder it stands on, and who took note. */
export function SplitSeed() {
  const of = plan.value!;
  const view = field.value?.split;
  const seed = of.seed ?? {};
  const starter = seed.starterLbPerAc ?? {};
  return (
    <Fold title="Salt near the seed" startsOpen={view?.salt.needsName ?? false}>
      <Ladder />
      <dl class="lines">
        <FigureLine
          label="Nearest distance of the band to the seed"
          unit="in."
          value={seed.distanceIn ?? null}
          otherwise="counts as with the seed"
          onTake={(distanceIn) =>
            edit(withSeed(of, { distanceIn }, `band ${said(distanceIn)} in. from the seed`))
          }
        />
        <FigureLine
          label="Depth of the band"
          unit="in."
          value={seed.bandDepthIn ?? null}
          otherwise="not told"
          onTake={(bandDepthIn) => edit(withSeed(of, { bandDepthIn }, `band ${said(bandDepthIn)} in. deep`))}
        />
        <PickLine
          label="Soil"
          value={seed.texture ?? ""}
          options={[
            ["", seed.sandyBelowCecMeq === undefined ? "not told: counts as sandy" : "by the CEC below"],
            ["sandy", "sandy"],
            ["other", "not sandy"],
          ]}
          onChoose={(texture) =>
            edit(
              withSeed(
                of,
                { texture: texture === "" ? null : (texture as NonNullable<PlanSeed["texture"]>) },
                `soil ${texture === "" ? "not told" : texture}`,
              ),
            )
          }
        />
        <FigureLine
          label="Sandy below a CEC of"
          unit="meq/100 g"
          value={seed.sandyBelowCecMeq ?? null}
          least={0.1}
          onTake={(sandyBelowCecMeq) =>
            edit(withSeed(of, { sandyBelowCecMeq }, `sandy below CEC ${said(sandyBelowCecMeq)}`))
          }
        />
        {(["N", "K2O", "S"] as const).map((part) => (
          <FigureLine
            key={part}
            label={`Planter's starter, ${partText(part)}`}
            unit="lb/ac"
            value={starter[part] ?? null}
            onTake={(value) => {
              const { [part]: _, ...others } = starter;
              const next = value === null ? others : { ...others, [part]: value };
              const starterLbPerAc = Object.keys(next).length === 0 ? null : next;
              edit(
                withSeed(of, { starterLbPerAc }, `planter's starter ${partText(part)} ${said(value)} lb/ac`),
              );
            }}
          />
        ))}
        <PickLine
          label="The starter lies"
          value={seed.starterSharesPlace === false ? "apart" : "with"}
          options={[
            ["with", "where the band lies"],
            ["apart", "apart from the band"],
          ]}
          onChoose={(place) =>
            edit(
              withSeed(
                of,
                { starterSharesPlace: place === "apart" ? false : null },
                place === "apart" ? "starter apart from the band" : "starter where the band lies",
              ),
            )
          }
        />
        <PickLine
          label="Soil with free lime"
          value={seed.calcareous === undefined ? "" : seed.calcareous ? "yes" : "no"}
          options={[
            ["", "not told"],
            ["yes", "yes"],
            ["no", "no"],
          ]}
          onChoose={(lime) =>
            edit(
              withSeed(
                of,
                { calcareous: lime === "" ? null : lime === "yes" },
                `free lime: ${lime === "" ? "not told" : lime}`,
              ),
            )
          }
        />
        <PickLine
          label="Above a limit the strip is"
          value={seed.cutToLimit === false ? "no" : "yes"}
          options={[
            ["yes", "cut to it, the rest broadcast"],
            ["no", "flagged only"],
          ]}
          onChoose={(cut) =>
            edit(
              withSeed(
                of,
                { cutToLimit: cut === "no" ? false : null },
                cut === "no" ? "salt flagged only" : "strip cut to the limit near the seed",
              ),
            )
          }
        />
      </dl>
    </Fold>
  );
}

const partText = (part: "N" | "K2O" | "S"): string => (part === "K2O" ? oxideText(part) : part);

/** The step of the ladder, its flags, and the name of who took note. */
function Ladder() {
  const view = field.value?.split;
  if (!view) return null;
  return (
    <>
      <ol class="small">
        {STEPS.map(([place, words]) => (
          <li key={place} aria-current={view.salt.place === place ? "step" : undefined}>
            {view.salt.place === place ? <strong>{words}: this plan</strong> : words}
          </li>
        ))}
      </ol>
      {view.care.map((line) => (
        <p key={`${line.label} ${line.text}`} class={line.label === "Near the seed" ? "doubt" : "small"}>
          <strong>{line.label}.</strong> {capital(line.text)}
        </p>
      ))}
      {(view.salt.needsName || view.salt.acknowledgedBy !== null) && <TakeNote />}
    </>
  );
}

const STEPS = [
  ["in the furrow", "under 2 in., or not told: the limit with the seed"],
  ["2 x 2", "2 to 3 in.: the 2 × 2 limit"],
  ["beyond", "over 3 in.: no limit, a flag above the 2 × 2 limit"],
] as const;

function TakeNote() {
  const of = plan.value!;
  const [name, setName] = useState("");
  const noted = of.seed?.acknowledged;
  if (noted) {
    return (
      <p class="small">
        {noted.by} took note on {noted.date}.{" "}
        <button
          type="button"
          disabled={readOnly.value}
          onClick={() => edit(withSeed(of, { acknowledged: null }, "salt: note taken back"))}
        >
          Take the note back
        </button>
      </p>
    );
  }
  return (
    <form
      class="reason"
      onSubmit={(event) => {
        event.preventDefault();
        const by = name.trim();
        if (by === "") return;
        const acknowledged = { by, date: today() };
        edit(withSeed(of, { acknowledged }, `salt beyond 3 in.: ${by} took note`));
      }}
    >
      <label class="small">
        Who takes note of it?{" "}
        <input
          type="text"
          value={name}
          maxLength={120}
          disabled={readOnly.value}
          onInput={(event) => setName(event.currentTarget.value)}
        />
      </label>
      <button type="submit" disabled={readOnly.value || name.trim() === ""}>
        Take note
      </button>
    </form>
  );
}
