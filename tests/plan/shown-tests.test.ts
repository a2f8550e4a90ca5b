import { expect, it } from "vitest";
import { fieldNeedLines } from "../../src/report/need-lines.ts";
import { workedField } from "../support/need-plan.ts";
import { SAMPLES } from "../support/small-farm.ts";

it("pH, buffer pH and organic matter of a table with one row a test are shown, and change no rate", async () => {
  const long = (shown: boolean) => {
    const rows = SAMPLES.flatMap(([id, lon, lat, p, k, cec]) => [
      `${id},${lon},${lat},P,Mehlich 3,${p},ppm`,
      `${id},${lon},${lat},K,Mehlich 3,${k},ppm`,
      `${id},${lon},${lat},CEC,,${cec},meq/100g`,
      ...(shown
        ? [`${id},${lon},${lat},pH,,${(6 + Number(id) / 10).toFixed(1)},`, `${id},${lon},${lat},OM,,3,%`]
        : []),
    ]);
    return `sample,lon,lat,analyte,method,value,unit\n${rows.join("\n")}\n`;
  };
  const [bare, field] = await Promise.all(
    [false, true].map((shown) => workedField({ files: { "lab.csv": long(shown) } })),
  );
  expect(field!.shownTests.pH).toMatchObject({ samples: 9, min: 6.1, max: 6.9 });
  expect(field!.shownTests.organicMatter).toMatchObject({ samples: 9, min: 3, max: 3 });
  expect(field!.shownTests.bufferPH).toBeUndefined();
  expect(bare!.shownTests.pH).toBeUndefined();
  expect(field!.need.p2o5LbPerAc).toEqual(bare!.need.p2o5LbPerAc);
  expect(fieldNeedLines(field!).join("\n")).toContain("no lime recommendation is made");
});
