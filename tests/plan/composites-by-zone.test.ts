import { describe, expect, it } from "vitest";
import { guideById, recommend } from "../../src/agronomy/index.ts";
import { InputError, QuestionError } from "../../src/errors/index.ts";
import type { PlanNeedFrom } from "../../src/plan/index.ts";
import {
  type Change,
  codes,
  east,
  inside,
  openBalance,
  rectangles,
  thrown,
  west,
  worked,
  workedField,
} from "../support/need-plan.ts";

describe("a composite sample a zone", () => {
  const zones = rectangles([
    [...west, { ZONE: "W1" }],
    [...east, { ZONE: 7 }],
  ]);
  const from: PlanNeedFrom = { kind: "zones", source: "zones.geojson", idColumn: "ZONE" };
  const change = (lab: string, file = zones): Change => ({
    files: { "zones.geojson": file, "lab.csv": lab },
    as: { "zones.geojson": "zones" },
    field: { needFrom: from },
  });
  const composites = "sample,P M3 ppm,K M3 ppm,CEC meq/100g\nW1,12,110,14\n7,30,180,20\n";

  it("is taken by the zone's id without a position, constant, nothing kriged", async () => {
    const field = await workedField(change(composites));
    expect(field.need.from).toBe("zones");
    expect(field.maps.P).toMatchObject({ method: "composite by zone", samples: 2, decisions: [] });
    const values = new Set(inside(field).map((cell) => field.maps.P!.estimate[cell]!));
    expect([...values].sort((a, b) => a - b)).toEqual([12, 30]);
    const guide = guideById("tri-state-2020");
    const rate = (test: number) =>
      recommend(guide, {
        crop: "soybean",
        yieldBuPerAc: 55,
        nutrient: "P2O5",
        test,
        testMethod: "mehlich-3",
        options: { rotation: "corn-soy" },
      }).lbPerAc;
    for (const cell of inside(field))
      expect(field.need.p2o5LbPerAc[cell]).toBeCloseTo(rate(field.maps.P!.estimate[cell]!), 9);
    expect(field.need.P2O5.rule!.belowCritical!.areaAc).toBeGreaterThan(5);
    expect(openBalance(field)).toBeLessThan(1e-6);
  });

  it("is weighed alike in every field by a guide without a critical level: its classes, not the field's own rates", async () => {
    // Iowa PM 1688, corn, P by Mehlich-3 ICP: low 16 to 25 ppm, optimum 26 to 35 (removal), as docs/sources.md has it.
    const iowa = { guide: "iowa-2013", guideOptions: {}, crop: "corn", yieldBuPerAc: 200 };
    const at = async (w1: number, seven: number) => {
      const lab = `sample,P M3-ICP ppm,K M3 ppm,CEC meq/100g\nW1,${w1},110,14\n7,${seven},180,20\n`;
      const made = change(lab);
      const field = await workedField({ ...made, field: { ...made.field, ...iowa } });
      const of = (ppm: number) => inside(field).find((cell) => field.maps.P!.estimate[cell] === ppm)!;
      return { field, priority: (ppm: number) => field.need.P2O5.priority[of(ppm)]! };
    };
    const mixed = await at(20, 30);
    expect(mixed.priority(20)).toBeLessThan(1);
    expect(mixed.priority(30)).toBeGreaterThanOrEqual(1);
    const low = inside(mixed.field).filter((cell) => mixed.field.maps.P!.estimate[cell] === 20);
    const lowAc = low.reduce((sum, cell) => sum + mixed.field.cells.areaM2[cell]! / 4046.8564224, 0);
    expect(mixed.field.need.P2O5.rule!.belowCritical!.areaAc).toBeCloseTo(lowAc, 6);
    // A field that is all optimum is weighed as the optimum of any other.
    const optimum = await at(30, 31);
    expect(optimum.priority(30)).toBeCloseTo(mixed.priority(30), 9);
    expect(optimum.field.need.P2O5.rule!.belowCritical).toBeNull();
  });

  it("has its decimal commas read by its own numbers, not by the places of the zones", async () => {
    const field = await workedField(
      change("sample;P M3 ppm;K M3 ppm;CEC meq/100g\nW1;12,4;110;14,5\n7;30,5;180;20,1\n"),
    );
    const values = new Set(inside(field).map((cell) => field.maps.P!.estimate[cell]!));
    expect([...values].sort((a, b) => a - b)).toEqual([12.4, 30.5]);
  });

  it("with positions is the mean of the samples in the zone", async () => {
    const lab =
      "id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g\n1,-93.499,42.0005,10,100,15\n2,-93.499,42.0015,20,120,15\n3,-93.497,42.0005,40,200,15\n";
    const field = await workedField(change(lab));
    expect([...new Set(inside(field).map((cell) => field.maps.P!.estimate[cell]!))].sort()).toEqual([15, 40]);
  });

  it("a zone without a test, ground in no zone, and a column that is not there are refused by name", async () => {
    const bare = await thrown(worked(change(composites.replace("7,30", "8,30"))), InputError);
    expect(bare.message).toBe("Low Forty: no P and K test for zone 7 of zones.geojson.");
    const half = rectangles([[...west, { ZONE: "W1" }]]);
    const gap = await thrown(worked(change(composites, half)), InputError);
    expect(gap.message).toMatch(/^Low Forty: \d+\.\d of \d+\.\d ac lie in no zone of zones\.geojson\.$/);
    const other = rectangles([[...west, { NAME: "W1" }]]);
    const column = await thrown(worked(change(composites, other)), InputError);
    expect(column.message).toBe("zones.geojson: no column “ZONE” among “NAME”.");
  });

  it("is found by the column that was chosen as its number", async () => {
    const lab = "Parcel,Nr,P M3 ppm,K M3 ppm,CEC meq/100g\nW1,101,12,110,14\n7,102,30,180,20\n";
    const answers = { "column:lab.csv:Parcel": "sample" };
    const field = await workedField(change(lab), { answers });
    expect(field.maps.P!.samples).toBe(2);
    expect(field.checked.samples.map(({ id }) => id)).toEqual(["W1", "7"]);
  });

  it("is found by an id that was typed again", async () => {
    const lab = "Zone,P M3 ppm,K M3 ppm,CEC meq/100g\nW-1,12,110,14\n7,30,180,20\n";
    const field = await workedField(change(lab), { answers: { "mend:lab.csv:2:Zone": "W1" } });
    expect(field.checked.samples.map(({ P }) => P)).toEqual([12, 30]);
  });

  it("with an id of no zone is told with the nearest there is; a table without any asks for places and names them", async () => {
    const lab = "Zone,P M3 ppm,K M3 ppm,CEC meq/100g\nW1,12,110,14\nw 1,13,111,14\n7,30,180,20\n";
    const { notices } = await worked(change(lab));
    expect(
      notices.filter(({ code }) => code === "sample-without-place").map(({ message }) => message),
    ).toEqual(["lab.csv, line 3: “w 1” is the id of no zone, the nearest is “W1”; left out."]);
    const other = "Zone,P M3 ppm,K M3 ppm,CEC meq/100g\nW-1,12,110,14\n";
    const asked = await thrown(worked(change(other)), QuestionError);
    expect(asked.questions.map(({ key, seen }) => [key, seen])).toEqual([
      [
        "join-points",
        "lab.csv: no latitude and longitude; column “Zone”: W-1; line 2: “W-1” is the id of no zone, the nearest is “W1”",
      ],
    ]);
  });

  it("few composites raise no notice about samples too few for a map", async () => {
    expect(codes((await workedField(change(composites))).notices)).not.toContain("few-samples");
  });
});
