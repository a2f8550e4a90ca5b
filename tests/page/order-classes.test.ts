import { expect, it } from "vitest";
import type { FarmView, FieldLine } from "../../app/src/engine/protocol.ts";
import { area } from "../../app/src/state/figures.ts";
import { orderClasses } from "../../app/src/state/order-classes.ts";
import { farm } from "../../app/src/state/results.ts";
import { settings } from "../../app/src/state/settings.ts";

const line = (id: string, areaAc: number, lbPerAc: number): FieldLine => ({
  id,
  areaAc,
  products: ["0-0-60"],
  balances: [],
  maps: [
    {
      ...{ product: "0-0-60", pass: "strip", stem: id, bin: "L", totalLb: lbPerAc * areaAc },
    } as unknown as FieldLine["maps"][number],
  ],
  ceilingLbPerAc: null,
  notices: [],
  written: true,
});

it("a class of one field has that field's acres as every table shows them, in hectares too", () => {
  farm.value = {
    ...{ planSha256: "", acres: 57.745, refused: [], notices: [], incomplete: "", guides: [] },
    fields: [line("back-40", 37.159, 280), line("mill", 20.586, 120)],
  } satisfies FarmView;
  const shown = () => orderClasses.value.acres.filter((acres) => acres > 0).map((acres) => area(acres));
  expect(shown().toSorted()).toEqual(["20.6", "37.2"]);
  // 20.586 x 0.40468564 = 8.3309, 37.159 x 0.40468564 = 15.0377 ha.
  settings.value = { ...settings.value, system: "metric" };
  expect(shown().toSorted()).toEqual(["15.0", "8.3"]);
});
