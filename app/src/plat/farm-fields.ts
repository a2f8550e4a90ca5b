import { computed, type ReadonlySignal } from "@preact/signals";
import { colours, passShare, ramps } from "#core";
import { LINE_SHARE, rulePitchM, rulesOf } from "../map/ruled-fields.ts";
import type { FarmField } from "../map/shapes.ts";
import { farmChoice } from "../state/farm-list.ts";
import { area, farmLines, rate, words } from "../state/figures.ts";
import { bermGlyphs, howFar, howFarShort } from "../state/how-far.ts";
import { plan } from "../state/opened.ts";
import { orderClasses, productLbPerAc } from "../state/order-classes.ts";
import { outlines } from "../state/results.ts";
import { here } from "../state/route.ts";

/** Rules along a field's passes, worked out once a step of its rate. */
const ruled = computed(() => {
  const all = outlines.value;
  const pitchM = all.length === 0 ? 0 : rulePitchM(all);
  const known = new Map<string, ReturnType<typeof rulesOf>>();
  const rules = (one: (typeof all)[number], step: number) => {
    const key = `${one.id} ${step}`;
    const laid = known.get(key) ?? rulesOf(one, pitchM, pitchM * passShare(step));
    known.set(key, laid);
    return laid;
  };
  return { pitchM, rules };
});

/** The farm's fields as its plat shows them: how far each is, or how many pounds an acre it takes. */
export const farmFields: ReadonlySignal<readonly FarmField[] | null> = computed(() => {
  const { sheet } = here.value;
  const of = plan.value;
  if (!of || (sheet !== "farm" && sheet !== "order")) return null;
  const byId = new Map(farmLines.value.map((line) => [line.id, line]));
  const classes = sheet === "order" ? orderClasses.value : null;
  return outlines.value.flatMap((outline): FarmField[] => {
    const { id, boundary, box, label } = outline;
    const one = of.fields.find((field) => field.id === id);
    if (!one) return [];
    const line = byId.get(id);
    const far = howFar(id);
    const acres = line ? `${area(line.areaAc)} ${words().area}` : "";
    const lbPerAc = line && classes ? productLbPerAc(line) : Number.NaN;
    const step = classes && Number.isFinite(lbPerAc) ? classes.stepOf(lbPerAc) : -1;
    const second = classes ? `${acres}, ${rate(lbPerAc)}` : `${acres} ${bermGlyphs(far)} ${howFarShort[far]}`;
    return [
      {
        id,
        boundary,
        box,
        label,
        text: `${one.name}\n${second.trim()}`,
        colour: !classes && far > 2 ? colours.paper : colours.sheet,
        rules: step < 0 ? [] : ruled.value.rules(outline, step),
        ruleM: step < 0 ? 0 : ruled.value.pitchM * passShare(step) * LINE_SHARE,
        ruleColour: step < 0 ? colours.ink2 : ramps.rate[step]!,
        chosen: sheet === "farm" && of.fields.length > 1 && id === farmChoice.value,
        areaAc: line?.areaAc ?? 0,
      },
    ];
  });
});
