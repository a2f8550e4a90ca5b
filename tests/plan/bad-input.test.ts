import { describe, expect, it } from "vitest";
import { InputError, QuestionError } from "../../src/errors/index.ts";
import { newPlan, type Plan, readPlan, run, writePlan } from "../../src/plan/index.ts";
import { thrown } from "../support/need-plan.ts";
import {
  ANSWERS,
  asList,
  boundary,
  labCsv,
  madeFrom,
  SAMPLES,
  smallFarmFiles,
  smallPlan,
  sourceOf,
  withFile,
} from "../support/small-farm.ts";
import { twoFields } from "../support/two-fields.ts";

// One test a kind of bad input; each holds the message, since that is what the user gets.

/** The error of a run whose plan was made from these very files. */
async function refusal(files: ReadonlyMap<string, Uint8Array>, plan: Plan = madeFrom(smallPlan(), files)) {
  try {
    await run(plan, sourceOf(files));
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error("the run went through");
}

function planRefusal(change: (plan: Record<string, unknown>) => void): InputError {
  const plan = structuredClone(smallPlan()) as unknown as Record<string, unknown>;
  change(plan);
  try {
    readPlan(new TextEncoder().encode(JSON.stringify(plan)), "plan.json");
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error("the plan was read");
}

describe("bad soil tests", () => {
  it("missing column", async () => {
    const rows = SAMPLES.map((row) => row.slice(0, 4));
    const files = withFile(smallFarmFiles(), "lab.csv", labCsv(rows, "id,lon,lat,P M3 ppm"));
    const error = await refusal(files);
    expect(error.message).toBe("lab.csv: no column for K among “id”, “lon”, “lat”, “P M3 ppm”.");
    expect(error.remedy).toBe(
      "Name the columns in the first row, for example lat, lon, P ppm, K ppm, CEC. Each table of samples must have both P and K: where K stands in another table, join the two by sample into one.",
    );
  });

  it("text in a number", async () => {
    const rows = SAMPLES.map((row) => (row[0] === 4 ? [4, -93.4995, 42.0012, "1o4", 110, 15] : row));
    const error = await refusal(withFile(smallFarmFiles(), "lab.csv", labCsv(rows)));
    expect(error.message).toBe("lab.csv, line 5, column P M3 ppm: “1o4” is not a number.");
  });

  it("sample 5 km outside: left out, named, and the rest is worked out", async () => {
    const files = withFile(
      smallFarmFiles(),
      "lab.csv",
      labCsv([...SAMPLES, [10, -93.4985, 41.955, 20, 140, 17]]),
    );
    const result = await run(madeFrom(smallPlan(), files), sourceOf(files));
    const stray = result.notices.find((notice) => notice.code === "sample-outside-fields")!;
    expect(stray.message).toMatch(
      /^lab\.csv, line 11: sample 10 lies 3\.1 miles outside Low Forty\. Left out/,
    );
    expect(result.fields[0]!.checked.samples).toHaveLength(9);
  });

  it("longitude and latitude swapped", async () => {
    const rows = SAMPLES.map(([id, lon, lat, ...rest]) => [id!, lat!, lon!, ...rest]);
    const error = await refusal(withFile(smallFarmFiles(), "lab.csv", labCsv(rows)));
    expect(error.message).toBe(
      "lab.csv, line 2: latitude -93.4995 is impossible; longitude and latitude look swapped.",
    );
  });
});

describe("bad boundaries", () => {
  const bowTie = [
    [-93.5, 42],
    [-93.4965, 42.0026],
    [-93.4965, 42],
    [-93.5, 42.0026],
    [-93.5, 42],
  ];

  it("crossing boundary: the place is named", async () => {
    const files = withFile(smallFarmFiles(), "boundary.geojson", JSON.stringify(boundary(bowTie)));
    const error = await refusal(files);
    expect(error.message).toMatch(
      /^Low Forty \(boundary\.geojson, record 1\): .*crossing at 42\.0013\d*, -93\.4982\d*/,
    );
    expect(error.remedy).toMatch(/Redraw the boundary/);
  });

  it("metres in GeoJSON", async () => {
    const metres = [
      [448_000, 4_647_000],
      [448_400, 4_647_000],
      [448_400, 4_647_300],
      [448_000, 4_647_000],
    ];
    const files = withFile(smallFarmFiles(), "boundary.geojson", JSON.stringify(boundary(metres)));
    const error = await refusal(files);
    expect(error.message).toMatch(/^boundary\.geojson/);
    expect(error.message).toMatch(/448000/);
  });

  it("longitude and latitude swapped", async () => {
    const swapped = boundary([
      [42, -93.5],
      [42, -93.4965],
      [42.0026, -93.4965],
      [42, -93.5],
    ]);
    swapped.features[0]!.geometry.coordinates.length = 1;
    const error = await refusal(withFile(smallFarmFiles(), "boundary.geojson", JSON.stringify(swapped)));
    expect(error.message).toMatch(/swapped/);
  });

  it("empty layer", async () => {
    const empty = JSON.stringify({ type: "FeatureCollection", features: [] });
    const error = await refusal(withFile(smallFarmFiles(), "boundary.geojson", empty));
    expect(error.message).toMatch(/no shapes in this file/);
  });
});

describe("bad plans", () => {
  it("a typed variogram that cannot be solved: field, test and key are named", async () => {
    const model = { nugget: 0, structures: [] };
    const plan = smallPlan();
    const own = { ...plan, fields: plan.fields.map((one) => ({ ...one, models: { P: model } })) };
    const ofField = await refusal(smallFarmFiles(), own);
    expect([ofField.code, ofField.message]).toEqual([
      "model-not-solvable",
      expect.stringMatching(/^Low Forty, P: the variogram model makes the equations/),
    ]);
    expect(ofField.remedy).toMatch(/ In plan\.json: fields “low-forty”, models\.P\.$/);
    const ofAll = await refusal(smallFarmFiles(), { ...plan, maps: { ...plan.maps, models: { K: model } } });
    expect(ofAll.message).toMatch(/^Low Forty, K: /);
    expect(ofAll.remedy).toMatch(/ In plan\.json: maps\.models\.K\.$/);
  });

  it("rows and spreader cells closer than any machine's, which would cut a field for minutes", () => {
    const error = planRefusal((plan) => {
      Object.assign(plan.rig as object, { rowSpacingIn: 0.01 });
      Object.assign(plan.spreader as object, { widthFt: 0.5, lengthFt: 4.9 });
    });
    expect(error.message).toMatch(/>=4; it has 0\.01\n.*at rig\.rowSpacingIn/);
    expect(error.message).toMatch(/>=5; it has 0\.5\n.*at spreader\.widthFt/);
    expect(error.message).toMatch(/>=5; it has 4\.9\n.*at spreader\.lengthFt/);
    // A new plan asks again.
    const answers = { ...ANSWERS, "row-spacing-in": "3.9" };
    const made = () => newPlan("farm", "2027-03-20", asList(smallFarmFiles()), answers);
    expect(made).toThrow(QuestionError);
  });

  it("a middle of the plane off the field: refused by distance, within 5 km taken", async () => {
    const at = (lonDeg: number, latDeg: number): Plan => {
      const plan = smallPlan();
      return { ...plan, fields: plan.fields.map((one) => ({ ...one, frameCentre: { lonDeg, latDeg } })) };
    };
    // The boundary's middle is -93.49825, 42.00135; 0.22 degrees east of it at 111.195 km x cos 42.00135 a degree.
    const error = await refusal(smallFarmFiles(), at(-93.27825, 42.00135));
    expect(error.code).toBe("frame-centre-far-away");
    expect(error.message).toBe(
      "Low Forty: frameCentre, longitude -93.27825 and latitude 42.00135, is 18.2 km from the middle of the boundary.",
    );
    expect((await refusal(smallFarmFiles(), at(0, 0))).message).toMatch(
      /longitude 0 and latitude 0, is [\d,.]+ km/,
    );
    // 0.05 degrees are 4.1 km.
    await run(at(-93.44825, 42.00135), sourceOf(smallFarmFiles()));
  });

  it("unknown key", () => {
    const error = planRefusal((plan) => {
      plan.colour = "green";
    });
    expect(error.message).toMatch(/^plan\.json:\n.*[Uu]nrecognized key.*colour/s);
  });

  it("a key that stands twice is named with its place; the same key of other parts, and text that looks like one, are not", () => {
    const text = new TextDecoder().decode(writePlan(smallPlan()));
    const read = (json: string) => readPlan(new TextEncoder().encode(json), "plan.json");
    expect(() => read(text.replace('"crop": "soybean"', '"crop": "corn", "crop": "soybean"'))).toThrow(
      "plan.json: fields[0].crop stands there twice.",
    );
    expect(() => read(text.replace('"seasonYear"', '"season\\u0059ear": 2020, "seasonYear"'))).toThrow(
      "plan.json: seasonYear stands there twice.",
    );
    const plan = smallPlan();
    const named = { ...plan, name: 'a "name": {"name": 1, "name": 2}' };
    expect(read(new TextDecoder().decode(writePlan(named)))).toEqual(named);
  });

  it("negative rate", () => {
    const error = planRefusal((plan) => {
      (plan.split as Record<string, unknown>).capLbPerAc = -150;
    });
    expect(error.message).toMatch(/expected number to be >=0; it has -150\n +→ at split\.capLbPerAc$/);
  });

  it("a text for a number, and a long one in one short line", () => {
    const error = planRefusal((plan) => {
      (plan.rig as Record<string, unknown>).rows = "16";
      (plan as Record<string, unknown>).date = `${"x".repeat(60)}\nend`;
    });
    expect(error.message).toMatch(/expected number, received string; it has "16"\n +→ at rig\.rows$/);
    expect(error.message).toContain(`; it has "${"x".repeat(39)}…\n  → at date`);
  });

  it("a choice that must be made and is not there is said to be missing", () => {
    const error = planRefusal((plan) => {
      delete (plan.split as Record<string, unknown>).within;
    });
    expect(error.message).toMatch(
      /expected one of "first-11-52-0"\|"alike"; it is not there\n +→ at split\.within$/,
    );
    const credit = planRefusal((plan) => {
      const [field] = plan.fields as Record<string, unknown>[];
      field!.credits = [{ name: "manure", date: "2027-03-01", lbPerAc: { K2O: 40 } }];
    });
    expect(credit.message).toMatch(/; it is not there\n +→ at fields\[0\]\.credits\[0\]\.kind$/);
  });

  it("path with ..", () => {
    const error = planRefusal((plan) => {
      (plan.sources as Record<string, unknown>[])[0]!.path = "../boundary.geojson";
    });
    expect(error.message).toMatch(/must not leave the plan's folder with \.\.[\s\S]*sources\[0\]\.path/);
  });

  it("newer format, and no plan at all", () => {
    const newer = planRefusal((plan) => {
      plan.format = "plan/2";
    });
    expect(newer.message).toBe("plan.json: format “plan/2” is newer than this program, which knows plan/1.");
    const none = planRefusal((plan) => {
      delete plan.format;
    });
    expect(none.code).toBe("not-a-plan");
  });

  it("a source that the plan does not list, and two fields of one id", () => {
    const unlisted = planRefusal((plan) => {
      (plan.fields as Record<string, unknown>[])[0]!.samples = "other.csv";
    });
    expect(unlisted.message).toBe(
      "plan.json: field low-forty takes its samples from “other.csv”, which sources does not list.",
    );
    const twice = planRefusal((plan) => {
      plan.fields = [...(plan.fields as unknown[]), ...(plan.fields as unknown[])];
    });
    expect(twice.message).toBe("plan.json: two fields are called “low-forty”.");
  });

  it("a file that changed since its answers were given is asked about, and can be taken with them", async () => {
    const files = withFile(smallFarmFiles(), "lab.csv", labCsv(SAMPLES.slice(0, 8)));
    const plan = smallPlan();
    await expect(run(plan, sourceOf(files))).rejects.toThrow(QuestionError);
    const result = await run(plan, sourceOf(files), { answers: { "changed-file": "same-answers" } });
    expect(result.fields[0]!.checked.samples).toHaveLength(8);
  });
});

describe("one bad field", () => {
  it("of half a county is taken for a mistyped corner", async () => {
    const [west, south, east, north] = [-93.5, 42, -93.38, 42.11];
    const wide = boundary([
      [west, south],
      [east, south],
      [east, north],
      [west, north],
      [west, south],
    ]);
    const files = withFile(smallFarmFiles(), "boundary.geojson", JSON.stringify(wide));
    const { plan } = newPlan("wide", "2027-03-20", asList(files), ANSWERS);
    await expect(run(plan, sourceOf(files))).rejects.toMatchObject({
      code: "field-too-big",
      message: expect.stringMatching(/^Low Forty \(boundary.geojson, record 1\): 29,\d{3} ac/),
    });
  });

  it("never stops the others: it is named, and every total says so", async () => {
    const two = boundary([
      [-93.5, 42],
      [-93.4965, 42],
      [-93.4965, 42.0026],
      [-93.5, 42.0026],
      [-93.5, 42],
    ]);
    const bad = boundary(
      [
        [-93.49, 42],
        [-93.486, 42.003],
        [-93.486, 42],
        [-93.49, 42.003],
        [-93.49, 42],
      ],
      "Bow Tie",
    );
    bad.features[0]!.geometry.coordinates.length = 1;
    two.features.push(...bad.features);
    const files = withFile(smallFarmFiles(), "boundary.geojson", JSON.stringify(two));
    const repaired = { ...ANSWERS, "repair-boundary": "non-zero" };
    const { plan: made } = newPlan("two fields", "2027-03-20", asList(files), repaired);
    const plan = { ...made, sources: made.sources.map((source) => ({ ...source, answers: {} })) };
    expect(plan.fields.map((field) => field.id)).toEqual(["low-forty", "bow-tie"]);
    const result = await run(plan, sourceOf(files));
    expect(result.fields.map((one) => one.field.id)).toEqual(["low-forty"]);
    expect(result.refused).toHaveLength(1);
    expect(result.refused[0]).toMatchObject({ field: "bow-tie", code: "boundary-not-valid" });
    expect(result.incomplete).toBe("1 of 2 fields");
  });

  it("keeps its code where it stands in the way of all of them, else names each", async () => {
    const { plan, files } = twoFields({ extras: [] }, {});
    const by = (...guides: readonly string[]): Plan => ({
      ...plan,
      fields: plan.fields.map((field, k) => ({ ...field, guide: guides[k]!, guideOptions: {} })),
    });
    const error = (...guides: readonly string[]) =>
      thrown(run(by(...guides), sourceOf(files), { files: "later" }), InputError);
    // Mehlich-3 P of the small farm does not say how it was read, and Iowa wants to know; Illinois does not read it at all.
    expect((await error("iowa-2013", "iowa-2013")).code).toBe("finish-not-stated");
    expect((await error("iowa-2013", "illinois")).code).toBe("no-field-worked-out");
  });
});
