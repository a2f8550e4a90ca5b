import { describe, expect, it } from "vitest";
import { guideIds } from "../../src/agronomy/index.ts";
import { InputError, QuestionError } from "../../src/errors/index.ts";
import { isKnownAnswerKey, newPlan, readPlan, writePlan } from "../../src/plan/index.ts";
import { east, rectangles, west } from "../support/need-plan.ts";
import { ANSWERS, asList, labCsv, SAMPLES, smallFarmFiles, withFile } from "../support/small-farm.ts";

const make = (files: ReadonlyMap<string, Uint8Array>, answers: Readonly<Record<string, string>> = ANSWERS) =>
  newPlan("small farm", "2027-03-20", asList(files), answers);

function questionsOf(
  files: ReadonlyMap<string, Uint8Array>,
  answers: Readonly<Record<string, string>>,
): string[] {
  try {
    make(files, answers);
  } catch (error) {
    if (error instanceof QuestionError) return error.questions.map((question) => question.key);
    throw error;
  }
  return [];
}

describe("a new plan", () => {
  it("comes from three files and their answers, and reads back as the same plan", () => {
    const { plan, recognised, notices } = make(smallFarmFiles());
    expect(readPlan(writePlan(plan), "plan.json")).toEqual(plan);
    expect(plan.fields).toHaveLength(1);
    expect(plan.fields[0]).toMatchObject({ id: "low-forty", name: "Low Forty", crop: "soybean" });
    expect(recognised[2]).toBe(
      "lab.csv: 9 soil samples; P from “P M3 ppm” in ppm, mehlich-3; K from “K M3 ppm” in ppm, mehlich-3; CEC from “CEC meq/100g” in meq/100g",
    );
    expect(notices.map((notice) => notice.code)).toEqual([
      "depth-not-stated",
      "rotation-taken",
      "choices-taken",
    ]);
  });

  it.each(["FIELD_NM", "FLD_NAME", "FieldName", "fld_id", "Name"])(
    "takes a field's name from %s",
    (column) => {
      const files = smallFarmFiles();
      const text = new TextDecoder().decode(files.get("boundary.geojson"));
      files.set("boundary.geojson", new TextEncoder().encode(text.replace('"FIELD"', `"${column}"`)));
      expect(make(files).plan.fields.map(({ name }) => name)).toEqual(["Low Forty"]);
    },
  );

  it.each(["16.5", "97", "0", "eight"])("asks again for rows where the answer is %s", (rows) => {
    try {
      make(smallFarmFiles(), { ...ANSWERS, rows });
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(QuestionError);
      expect((error as QuestionError).questions).toEqual([
        {
          key: "rows",
          text: "How many rows has the rig? A whole number, 96 at most.",
          choices: [],
          seen: `answered “${rows}”`,
        },
      ]);
    }
  });

  it("asks again by the field's own key where the answer given for it is the one that cannot stand", () => {
    const asked = (answers: Readonly<Record<string, string>>) => {
      try {
        make(smallFarmFiles(), { ...ANSWERS, ...answers });
      } catch (error) {
        if (error instanceof QuestionError) return error.questions.map(({ key, seen }) => [key, seen]);
      }
      return [];
    };
    expect(asked({ "guide.low-forty": "iowa-2023" })).toEqual([
      ["guide.low-forty", "answered “iowa-2023” for Low Forty"],
    ]);
    expect(asked({ "crop.low-forty": "beans" })[0]).toEqual([
      "crop.low-forty",
      "answered “beans” for Low Forty",
    ]);
    expect(asked({ crop: "beans" })[0]![0]).toBe("crop");
  });

  it("drops accents from a field's id and keeps them in its name", () => {
    const files = smallFarmFiles();
    const text = new TextDecoder().decode(files.get("boundary.geojson"));
    files.set("boundary.geojson", new TextEncoder().encode(text.replaceAll("Low Forty", "Nörd Große 40")));
    expect(make(files).plan.fields[0]).toMatchObject({ id: "nord-grosse-40", name: "Nörd Große 40" });
  });

  it("names the columns of a lab table that it does not use", () => {
    const files = smallFarmFiles();
    const text = new TextDecoder().decode(files.get("lab.csv"));
    files.set("lab.csv", new TextEncoder().encode(text.replace("CEC meq/100g", "Humus %")));
    expect(make(files).recognised[2]).toMatch(/; not used: Humus %$/);
  });

  it("says of a file that it holds the same as another, byte for byte", () => {
    const files = smallFarmFiles();
    files.set("lab-2.csv", files.get("lab.csv")!);
    const twice = make(files).notices.filter(({ code }) => code === "file-twice");
    expect(twice.map(({ where }) => where)).toEqual(["lab-2.csv"]);
    expect(twice[0]!.message).toContain("lab-2.csv: holds the same as lab.csv");
  });

  it("planned from July on it is for the next year's season", () => {
    const seasonOn = (date: string) =>
      newPlan("farm", date, asList(smallFarmFiles()), ANSWERS).plan.seasonYear;
    expect([
      seasonOn("2027-03-20"),
      seasonOn("2027-06-30"),
      seasonOn("2027-07-01"),
      seasonOn("2027-11-25"),
    ]).toEqual([2027, 2027, 2028, 2028]);
  });

  it("keeps a value typed again with the file it is of", () => {
    const key = "mend:lab.csv:2:P M3 ppm";
    const { plan } = make(smallFarmFiles(), { ...ANSWERS, [key]: "33.5" });
    expect(plan.sources.find(({ as }) => as === "samples")?.answers[key]).toBe("33.5");
    expect(plan.sources.filter(({ answers }) => key in answers)).toHaveLength(1);
    expect(isKnownAnswerKey(key)).toBe(true);
    expect(isKnownAnswerKey("mend:lab.csv")).toBe(false);
  });

  it("asks for everything the files do not say, at once, with no default", () => {
    expect(questionsOf(smallFarmFiles(), {})).toEqual([
      "rows",
      "row-spacing-in",
      "cap",
      "crop",
      "yield",
      "guide",
    ]);
    const bare = withFile(smallFarmFiles(), "lab.csv", labCsv(SAMPLES, "id,lon,lat,P,K,CEC"));
    expect(questionsOf(bare, ANSWERS)).toEqual(["unit.P", "method.P", "unit.K", "method.K"]);
  });

  it("an answer that is no choice is asked again, and says what was answered", () => {
    expect(questionsOf(smallFarmFiles(), { ...ANSWERS, crop: "corns" })).toEqual(["crop"]);
    expect(questionsOf(smallFarmFiles(), { ...ANSWERS, yield: "-3" })).toEqual(["yield"]);
    expect(questionsOf(smallFarmFiles(), { ...ANSWERS, cap: "-150" })).toEqual(["cap"]);
  });

  it("takes crop, yield and guide for one field where they are given for it", () => {
    const { plan } = make(smallFarmFiles(), {
      ...ANSWERS,
      "crop.low-forty": "corn",
      "yield.low-forty": "190",
    });
    expect(plan.fields[0]).toMatchObject({ crop: "corn", yieldBuPerAc: 190 });
  });

  it("keeps what was answered about a file with the file", () => {
    const bare = withFile(smallFarmFiles(), "lab.csv", labCsv(SAMPLES, "id,lon,lat,P ppm,K ppm,CEC"));
    const answers = { ...ANSWERS, "method.P": "mehlich-3", "method.K": "mehlich-3" };
    const { plan } = make(bare, answers);
    expect(plan.sources.find((source) => source.as === "samples")!.answers).toEqual({
      "method.P": "mehlich-3",
      "method.K": "mehlich-3",
    });
  });

  it("names strays and leaves them out", () => {
    const far = [...SAMPLES, [10, -93.4985, 41.955, 20, 140, 17]];
    const { notices } = make(withFile(smallFarmFiles(), "lab.csv", labCsv(far)));
    const stray = notices.find((notice) => notice.code === "sample-outside-fields")!;
    expect(stray.message).toMatch(
      /^lab\.csv, line 11: sample 10 lies 3\.1 miles outside Low Forty\. Left out/,
    );
  });

  it("refuses what it cannot read by name, and a set without one of the three kinds", () => {
    const refusal = (files: ReadonlyMap<string, Uint8Array>) => {
      try {
        make(files);
      } catch (error) {
        if (error instanceof InputError) return error;
        throw error;
      }
      throw new Error("was read");
    };
    expect(refusal(withFile(smallFarmFiles(), "notes.docx", "hello")).message).toMatch(
      /^notes\.docx: .*not read/,
    );
    const noLine = new Map([...smallFarmFiles()].filter(([path]) => path !== "line.geojson"));
    expect(refusal(noLine).message).toMatch(/there is no a guidance line A-B|no guidance line/);
  });

  it("what a guide asks is answered for one field alone before all, as build takes it", () => {
    const halves = rectangles([
      [...west, { FIELD: "West" }],
      [...east, { FIELD: "East" }],
    ]);
    const files = withFile(smallFarmFiles(), "boundary.geojson", halves);
    const made = make(files, { ...ANSWERS, "option.rotation.west": "with-wheat-or-alfalfa" });
    expect(made.plan.fields.map(({ id, guideOptions }) => [id, guideOptions])).toEqual([
      ["west", { rotation: "with-wheat-or-alfalfa" }],
      ["east", { rotation: "corn-soy" }],
    ]);
    // Nebraska's guide has no choice that is taken: answered for each field, nothing is asked.
    const nebraska = { ...ANSWERS, guide: "nebraska", crop: "corn" };
    const own = { "option.previousCrop.west": "corn", "option.previousCrop.east": "soybean" };
    expect(questionsOf(files, nebraska)).toContain("option.previousCrop");
    expect(questionsOf(files, { ...nebraska, ...own })).not.toContain("option.previousCrop");
    // A level typed for the field whose guide does not take its tests is no other field's.
    const levels = { "guide.west": "nebraska", "critical-level.P": "18", "critical-level.K": "160" };
    const two = make(files, { ...ANSWERS, crop: "corn", ...own, ...levels });
    expect(two.plan.fields.map(({ guide, nutrients }) => [guide, nutrients])).toEqual([
      ["nebraska", { P2O5: { criticalLevelPpm: 18 }, K2O: { criticalLevelPpm: 160 } }],
      [ANSWERS.guide, undefined],
    ]);
  });

  it("knows its answer keys and no others", () => {
    for (const key of [
      "guide",
      "crop.low-forty",
      "method.P",
      "option.rotation",
      "cap",
      "conversion.P",
      "mix-samplings.K",
      "rate-unit.K2O",
      "addition-counts",
    ]) {
      expect(isKnownAnswerKey(key)).toBe(true);
    }
    for (const key of ["gide", "crop.", "cap.low-forty", "method.Q"])
      expect(isKnownAnswerKey(key)).toBe(false);
  });

  it("of several dated tables the newest is read first and the others stay to choose from", () => {
    const dated = "id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g,Date";
    const on = (date: string) =>
      labCsv(
        SAMPLES.map((row) => [...row, date]),
        dated,
      );
    const files = new Map([...withFile(smallFarmFiles(), "lab.csv", on("2022-10-04"))]);
    const both = withFile(files, "new.csv", on("2026-10-04"));
    const { plan, notices: told } = make(both);
    expect(plan.fields[0]).toMatchObject({ samples: "new.csv", moreSamples: ["lab.csv"] });
    expect(told.find((notice) => notice.code === "samples-newest-first")!.message).toMatch(
      /^Low Forty: of its tables new\.csv \(2026-10-04, 9 samples\) is the newest, .* kept beside it: lab\.csv \(2022-10-04, 9 samples\)\./,
    );
    const oneDay = make(withFile(files, "new.csv", on("2022-10-04"))).notices;
    expect(oneDay.find(({ code }) => code === "samples-newest-first")!.message).toMatch(
      /are of one day, so whether one or all of them give a test that they have is asked when/,
    );
    const tomorrow = make(withFile(smallFarmFiles(), "lab.csv", on("2062-11-02"))).notices;
    expect(tomorrow.find(({ code }) => code === "sampling-in-future")!.message).toMatch(
      /^lab\.csv: samples dated 2062-11-02, after [\d-]+, the day of the plan;/,
    );
    // A day that has not come is no newest, as when the field is worked out.
    const late = make(withFile(files, "new.csv", on("2062-11-02"))).plan.fields[0];
    expect(late).toMatchObject({ samples: "lab.csv", moreSamples: ["new.csv"] });
    // Named, the older one is read and stands alone; one that is not there is asked for.
    const named = make(both, { ...ANSWERS, samples: "lab.csv" });
    expect(named.plan.fields[0]).toMatchObject({ samples: "lab.csv" });
    expect(named.plan.fields[0]).not.toHaveProperty("moreSamples");
    expect(named.notices.find((notice) => notice.code === "samples-left-aside")!.message).toMatch(
      /lab\.csv is used, since it was named; left aside: new\.csv/,
    );
    expect(questionsOf(both, { ...ANSWERS, samples: "gone.csv" })).toEqual(["samples.low-forty"]);
    const undated = withFile(smallFarmFiles(), "more.csv", labCsv(SAMPLES.slice(0, 4)));
    const { plan: bare, notices } = make(undated);
    expect(bare.fields[0]).toMatchObject({ samples: "lab.csv" });
    expect(bare.fields[0]).not.toHaveProperty("moreSamples");
    expect(notices.find((notice) => notice.code === "samples-left-aside")!.message).toMatch(
      /lab\.csv is used, since no dates .* it has the most; left aside: more\.csv, 4 samples .* list them under moreSamples in plan\.json\.$/,
    );
    // As good as each other: the plan asks. A place outside the field, or a test that is missing, does not count.
    const tied = withFile(
      smallFarmFiles(),
      "more.csv",
      labCsv([...SAMPLES, ["far", -93.9, 42.1, 14, 180, 17.5]]),
    );
    const asked = () => make(tied);
    expect(asked).toThrow(QuestionError);
    try {
      asked();
    } catch (error) {
      const { questions } = error as QuestionError;
      expect(questions.map(({ key, choices }) => [key, choices])).toEqual([
        ["samples", ["lab.csv", "more.csv"]],
      ]);
    }
    for (const samples of ["lab.csv", "more.csv"]) {
      expect(make(tied, { ...ANSWERS, samples }).plan.fields[0]!.samples).toBe(samples);
      expect(make(tied, { ...ANSWERS, "samples.low-forty": samples }).plan.fields[0]!.samples).toBe(samples);
    }
  });

  it("takes a conversion or a critical level by name, and writes no new key unasked", () => {
    const bray = withFile(
      smallFarmFiles(),
      "lab.csv",
      labCsv(SAMPLES, "id,lon,lat,P Bray 1 ppm,K M3 ppm,CEC"),
    );
    const ratio = "tri-state-bray-to-mehlich-3-ratio";
    const { plan, notices: told } = make(bray, {
      ...ANSWERS,
      "conversion.P": ratio,
      "critical-level.K": "130",
    });
    expect(plan.fields[0]!.nutrients).toEqual({
      P2O5: { conversion: ratio },
      K2O: { criticalLevelPpm: 130 },
    });
    expect(told.filter(({ code }) => code === "way-through-taken").map(({ message }) => message)).toEqual([
      `conversion.P=${ratio} stands on Low Forty (Bray P1)`,
      "critical-level.K=130 ppm stands on Low Forty (Mehlich-3)",
    ]);
    // The guide takes Mehlich-3 as it is: a build would refuse a conversion of it.
    const needless = { ...ANSWERS, "conversion.P": "tri-state-mehlich-3-to-bray-ratio" };
    expect(make(smallFarmFiles(), needless).plan.fields[0]!).not.toHaveProperty("nutrients");
    expect(() => make(bray, { ...ANSWERS, "conversion.P": "bray-to-mehlich" })).toThrow(/no conversion/);
    expect(() => make(smallFarmFiles(), { ...ANSWERS, "critical-level.P": "low" })).toThrow(
      /critical-level\.P/,
    );
    expect(Object.keys(make(smallFarmFiles()).plan.fields[0]!)).toEqual([
      ...["id", "name", "boundary", "guidance", "samples", "crop", "yieldBuPerAc", "guide", "guideOptions"],
      "broadcast",
    ]);
  });
});

describe("shapes and lines of several fields", () => {
  const east = (text: string) => text.replaceAll(/-93\.(\d+)/g, (_, digits) => `-92.${digits}`);
  const both = (path: string, other: (text: string) => string) => {
    const text = new TextDecoder().decode(smallFarmFiles().get(path));
    const [one, two] = [JSON.parse(text), JSON.parse(other(text))];
    return JSON.stringify({ ...one, features: [...one.features, ...two.features] });
  };
  const told = (boundary: string, line: string) => {
    const files = withFile(withFile(smallFarmFiles(), "boundary.geojson", boundary), "line.geojson", line);
    const doubts = make(files).notices.filter(({ code }) =>
      ["parts-of-one-name", "line-not-used", "line-from-elsewhere"].includes(code),
    );
    return doubts.map(({ message }) => message);
  };

  it("tells that shapes of one name became one field, and which line is left", () => {
    const [parts, lines, ...more] = told(both("boundary.geojson", east), both("line.geojson", east));
    expect(parts).toContain(
      "Low Forty: 2 shapes of this name are parts of one field (boundary.geojson, record 1; ",
    );
    expect(lines).toContain("guidance lines that no field uses: line.geojson, record 2;");
    expect(more).toEqual([]);
  });

  it("says nothing of it where the shapes have names of their own, each with its line", () => {
    const named = both("boundary.geojson", (text) => east(text).replace("Low Forty", "East Forty"));
    expect(told(named, both("line.geojson", east))).toEqual([]);
  });
});

describe("a line that no field but another has", () => {
  it("is named where it goes to a field that it does not touch", () => {
    const text = new TextDecoder().decode(smallFarmFiles().get("boundary.geojson"));
    const east = text
      .replaceAll(/-93\.(\d+)/g, (_, digits) => `-92.${digits}`)
      .replace("Low Forty", "East Forty");
    const [one, two] = [JSON.parse(text), JSON.parse(east)];
    const both = JSON.stringify({ ...one, features: [...one.features, ...two.features] });
    const told = make(withFile(smallFarmFiles(), "boundary.geojson", both)).notices.filter(
      ({ code }) => code === "line-from-elsewhere",
    );
    expect(told.map(({ where }) => where)).toEqual(["east-forty"]);
    expect(told[0]!.message).toMatch(
      /^East Forty: no guidance line lies in it or beside it; it gets line\.geojson, record 1, which is of Low Forty, 27\d,\d{3} ft away\./,
    );
    expect(make(smallFarmFiles()).notices.map(({ code }) => code)).not.toContain("line-from-elsewhere");
  });
});

describe("a guide that has to fit the tests", () => {
  const fitted = (headings: string, more: Readonly<Record<string, string>>) => {
    try {
      newPlan(
        "farm",
        "2027-03-20",
        asList(withFile(smallFarmFiles(), "lab.csv", labCsv(SAMPLES, headings))),
        {
          ...ANSWERS,
          ...more,
        },
        true,
      );
    } catch (error) {
      if (error instanceof QuestionError) return error.questions;
      throw error;
    }
    return [];
  };
  const bray = "id,lon,lat,P Bray 1 ppm,K M3 ppm,CEC meq/100g";

  it("asks for another one where it does not read the extractant, with the answers that keep it", () => {
    const [question, ...others] = fitted(bray, {});
    expect(others).toEqual([]);
    expect(question!.key).toBe("guide");
    expect(question!.text).toContain("reads soybean P2O5 from Mehlich-3; the test is Bray P1");
    expect(question!.text).toContain("conversion.P=tri-state-bray-to-mehlich-3-ratio");
    expect(question!.text).toContain("critical-level.P=PPM");
    expect(question!.choices).not.toContain("tri-state-2020");
    expect(question!.seen).toBe("Low Forty: lab.csv, column “P Bray 1 ppm”");
    for (const guide of question!.choices)
      expect(fitted(bray, { guide }).map(({ key }) => key)).not.toContain("guide");
  });

  const offered = (headings: string, more: Readonly<Record<string, string>>): readonly string[] => {
    const { guide: _, ...answers } = ANSWERS;
    const files = withFile(smallFarmFiles(), "lab.csv", labCsv(SAMPLES, headings));
    try {
      newPlan("farm", "2027-03-20", asList(files), { ...answers, ...more });
    } catch (error) {
      if (error instanceof QuestionError) return error.questions.find(({ key }) => key === "guide")!.choices;
      throw error;
    }
    return [];
  };

  it("offers those alone that read the extractant and have the crop, so that none of them is asked about again", () => {
    const choices = offered(bray, {});
    expect(choices.length).toBeGreaterThan(0);
    expect(guideIds().filter((id) => !choices.includes(id))).toContain("tri-state-2020");
    for (const id of guideIds())
      expect([id, fitted(bray, { guide: id }).some(({ key }) => key === "guide")]).toEqual([
        id,
        !choices.includes(id),
      ]);
    expect(offered(bray, { guide: "tri-state" })).toEqual(choices);
  });

  it("offers a guide that only asks for the laboratory's finish, and all where the extractant is not known", () => {
    const mehlich = "id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g";
    expect(offered(mehlich, {})).toContain("iowa-2013");
    expect(offered("id,lon,lat,P ppm,K ppm,CEC", {})).toEqual(guideIds());
    const ofEither = ["corn", "soybean"].flatMap((crop) => offered(bray, { crop }));
    expect(offered(bray, { crop: "" })).toEqual(guideIds().filter((id) => ofEither.includes(id)));
  });

  it("takes a conversion or a critical level as the answer, and asks for the field's own guide by its key", () => {
    expect(fitted(bray, { "conversion.P": "tri-state-bray-to-mehlich-3-ratio" })).toEqual([]);
    expect(fitted(bray, { "critical-level.P": "25" })).toEqual([]);
    const own = { guide: "iowa-2013", "guide.low-forty": "tri-state-2020" };
    expect(fitted(bray, own).map(({ key }) => key)).toEqual(["guide.low-forty"]);
  });

  it("asks how Mehlich-3 was read where the guide needs it, and takes the answer beside the heading", () => {
    const headings = "id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g";
    const [question] = fitted(headings, { guide: "iowa-2013" });
    expect(question).toMatchObject({ key: "method.P", choices: ["mehlich-3-icp", "mehlich-3-colorimetric"] });
    expect(fitted(headings, { guide: "iowa-2013", "method.P": "mehlich-3-icp" })).toEqual([]);
  });

  it("does not offer a guide that reads potash by CEC where the samples have none, and says so of one that was named", () => {
    const [bare, blank] = [
      "id,lon,lat,P Bray 1 ppm,K NH4OAc ppm",
      "id,lon,lat,P Bray 1 ppm,K NH4OAc ppm,CEC meq/100g",
    ];
    const noCec = (headings: string) =>
      labCsv(
        SAMPLES.map((row) => [...row.slice(0, 5), ""]),
        headings,
      );
    for (const [csv, has] of [
      [
        labCsv(
          SAMPLES.map((row) => row.slice(0, 5)),
          bare,
        ),
        false,
      ],
      [noCec(blank), false],
      [labCsv(SAMPLES, blank), true],
    ] as const) {
      const asked = (answers: Readonly<Record<string, string>>) => {
        try {
          newPlan("farm", "2027-03-20", asList(withFile(smallFarmFiles(), "lab.csv", csv)), answers, true);
        } catch (error) {
          if (error instanceof QuestionError) return error.questions.find(({ key }) => key === "guide");
          throw error;
        }
        return undefined;
      };
      const { guide: _, ...open } = ANSWERS;
      expect(asked(open)!.choices.includes("illinois")).toBe(has);
      const named = asked({ ...open, guide: "illinois", "option.pSupply": "high" });
      if (has) expect(named).toBeUndefined();
      else expect(named!.text).toMatch(/reads K2O by the CEC of the soil, and the samples have none/);
    }
  });

  it("says nothing of a guide's rules before the crop is known", () => {
    const open = fitted("id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g", { crop: "corn-soybean-two-year" });
    expect(open.map(({ key }) => key)).toEqual(["crop"]);
  });

  it("leaves it to the plan where nobody asked for it", () => {
    const files = withFile(smallFarmFiles(), "lab.csv", labCsv(SAMPLES, bray));
    expect(make(files).plan.fields).toHaveLength(1);
  });
});
