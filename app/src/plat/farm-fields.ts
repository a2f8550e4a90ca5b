import { computed, type ReadonlySignal } from "@preact/signals";
import { colours, ramps } from "#core";
import type { FarmField } from "../map/shapes.ts";
import { farmChoice } from "../state/farm-list.ts";
import { area, farmLines, words } from "../state/figures.ts";
import { howFar, howFarWords } from "../state/how-far.ts";
import { plan } from "../state/opened.ts";
import { orderClasses, productLbPerAc } from "../state/order-classes.ts";
import { outlines } from "../state/results.ts";
import { here } from "../state/route.ts";

/** A berm glyph a step done. */
const glyphs = (steps: number): string => "∩".repeat(steps) || "–";

/** The farm's fields as its plat shows them: how far each is, or how many pounds an acre it takes. */
export const farmFields: ReadonlySignal<readonly FarmField[] | null> = computed(() => {
  const { sheet } = here.value;
  const of = plan.value;
  if (!of || (sheet !== "farm" && sheet !== "order")) return null;
  const byId = new Map(farmLines.value.map((line) => [line.id, line]));
  const classes = sheet === "order" ? orderClasses.value : null;
  return outlines.value.flatMap(({ id, boundary, label }): FarmField[] => {
    const one = of.fields.find((field) => field.id === id);
    if (!one) return [];
    const line = byId.get(id);
    const far = howFar(of, line, id);
    const acres = line ? `${area(line.areaAc, 0)} ${words().area}` : "";
    const rate = line && classes ? productLbPerAc(line) : Number.NaN;
    const step = classes && Number.isFinite(rate) ? classes.stepOf(rate) : -1;
    const second = classes
      ? Number.isFinite(rate)
        ? classes.text(rate)
        : "–"
      : `${glyphs(far)} ${howFarWords[far]}`;
    return [
      {
        id,
        boundary,
        label,
        text: [one.name, acres, second].filter((part) => part !== "").join("\n"),
        colour: step < 0 ? (far > 2 ? colours.paper : colours.sheet) : ramps.rate[step]!,
        chosen: sheet === "farm" && of.fields.length > 1 && id === farmChoice.value,
        areaAc: line?.areaAc ?? 0,
      },
    ];
  });
});
