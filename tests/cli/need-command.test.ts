import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { checkRows } from "../agronomy/check-values.ts";
import { cli } from "../support/in-process-cli.ts";

// Figures: tests/data/agronomy/check-values.csv.
const typed = [
  ...["need", "--guide", "tri-state-2020", "--crop", "corn", "--yield", "180"],
  ...["--p", "10", "--p-method", "mehlich-3-icp", "--k", "90", "--k-method", "mehlich-3", "--cec", "12"],
];
const rotation = ["--option", "rotation=corn-soy"];

let base: string;
beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), "need-test-"));
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

function table(name: string, text: string): string {
  const path = join(base, name);
  writeFileSync(path, text);
  return path;
}

describe("need", () => {
  test("prints the arithmetic in words, the status, and that it is no advice", async () => {
    const told = await cli(...typed, ...rotation);
    expect(told.exit).toBe(0);
    expect(told.out).toMatch(/^tri-state-2020, corn \(unconfirmed\)$/m);
    expect(told.out).toMatch(
      /^P2O5: 113\.0 lb\/ac wanted in all, the guide's rate for spreading; rounded 113$/m,
    );
    expect(told.out).toMatch(
      /^K2O: 104\.0 lb\/ac wanted in all, the guide's rate for spreading; rounded 104$/m,
    );
    expect(told.out).toMatch(/^ {2}Critical level 20 ppm; the test, 10 ppm P, is below it\.$/m);
    expect(told.out).toMatch(/Not advice: .*docs\/cautions\.md/);
    expect(told.error).toMatch(/the test is taken as ppm, elemental, at the guide's own depth/);
    expect(told.error).toMatch(/unconfirmed: .* are from memory \(removal\.corn\.p2o5, removal\.corn\.k2o\)/);
    expect(told.error.match(/unconfirmed:/g)).toHaveLength(1);
    expect(told.error.match(/the test is taken as/g)).toHaveLength(1);
  });

  test("--json gives guide, crop, status, both nutrients with their steps, and notices", async () => {
    const told = await cli(...typed, ...rotation, "--json");
    const json = JSON.parse(told.out);
    expect(Object.keys(json)).toEqual(["guide", "crop", "status", "p2o5", "k2o", "notices"]);
    expect(json).toMatchObject({ guide: "tri-state-2020", crop: "corn", status: "unconfirmed" });
    for (const nutrient of [json.p2o5, json.k2o]) {
      expect(nutrient.steps.length).toBeGreaterThan(1);
      expect(nutrient.steps.every((step: unknown) => typeof step === "string")).toBe(true);
    }
    expect(json.p2o5.lbPerAc).toBeCloseTo(113, 9);
    expect([json.p2o5.roundedLbPerAc, json.k2o.roundedLbPerAc]).toEqual([113, 104]);
    expect(json.notices[0]).toEqual({
      code: expect.any(String),
      message: expect.any(String),
      where: expect.any(String),
    });
  });

  test("lbPerAc is not rounded, roundedLbPerAc goes by the guide's step", async () => {
    const words = ["need", "--guide", "tri-state-1995", "--crop", "corn", "--yield", "150", "--json"];
    const { p2o5 } = JSON.parse((await cli(...words, "--p", "12.3", "--p-method", "bray-p1")).out);
    expect(p2o5.lbPerAc).toBeCloseTo((15 - 12.3) * 5 + 150 * 0.37, 9);
    expect(p2o5.roundedLbPerAc).toBe(70);
  });

  test("a half that arithmetic leaves a hair below is a half, and goes up", async () => {
    const words = ["need", "--guide", "south-dakota", "--crop", "corn", "--yield", "150", "--json"];
    const { k2o } = JSON.parse((await cli(...words, "--k", "120", "--k-method", "ammonium-acetate")).out);
    expect(k2o.lbPerAc).toBeCloseTo(43.5, 9);
    expect(k2o.roundedLbPerAc).toBe(44);
  });

  test("a yield goal that is hardly the crop's is doubted, as by build", async () => {
    const words = [
      "need",
      "--guide",
      "tri-state-1995",
      "--crop",
      "corn",
      "--p",
      "12",
      "--p-method",
      "bray-p1",
    ];
    const odd = await cli(...words, "--yield", "1800");
    expect(odd.error).toMatch(/a yield goal of 1800 bu\/ac of corn is unusual, goals lie between 90 and 350/);
    expect((await cli(...words, "--yield", "180")).error).not.toMatch(/unusual/);
  });

  test("an option is asked only where the nutrient needs it (exit 3), by its key", async () => {
    const asked = await cli(...typed, "--json");
    expect(asked.exit).toBe(3);
    const { questions } = JSON.parse(asked.out);
    expect(questions).toMatchObject([
      { key: "option.rotation", choices: ["corn-soy", "with-wheat-or-alfalfa"] },
    ]);
    expect((await cli(...typed, "--answer", "option.rotation=corn-soy")).exit).toBe(0);
    const onlyK = await cli(
      ...["need", "--guide", "tri-state-2020", "--crop", "corn", "--yield", "180"],
      ...["--k", "90", "--k-method", "mehlich-3", "--cec", "12", "--json"],
    );
    expect(onlyK.exit).toBe(0);
    expect(JSON.parse(onlyK.out).p2o5).toBeUndefined();
  });

  const corn = ["need", "--guide", "tri-state-2020", "--crop", "corn", "--yield", "180"];
  test.each([
    [["need", "--crop", "corn", "--yield", "180"], /need was given no --guide/],
    [["need", "--guide", "iowa-2023", "--crop", "corn", "--yield", "180"], /there is no guide "iowa-2023"/],
    [[...corn.slice(0, 5), "--yield", "-3", "--p", "9", "--p-method", "olsen"], /--yield -3: not a number/],
    [corn, /neither a P nor a K test is given/],
    [[...corn, "--p", "9"], /need was given no --p-method/],
    [[...corn, "--p-method", "mehlich-3"], /--p-method was given without --p/],
    [[...corn, "--p", "9", "--p-method", "bray"], /"bray" is no test method for P/],
    [
      [...corn, ...rotation, "--p", "9", "--p-method", "olsen"],
      /reads corn P2O5 from Mehlich-3; the test is Olsen/,
    ],
    [[...corn, "--k", "90", "--k-method", "mehlich-3"], /reads K2O by the CEC of the soil; none is given/],
    [
      [...corn, "--option", "rotation=hay", "--p", "9", "--p-method", "mehlich-3"],
      /"hay" is no answer to rotation/,
    ],
    [[...corn, "--option", "years=4", "--p", "9", "--p-method", "mehlich-3"], /has no option "years"/],
    [[...corn, "--samples", "x.csv", "--p", "9"], /--p was given beside --samples/],
  ])("refuses %j", async (words, message) => {
    const told = await cli(...words);
    expect(told.exit).toBe(2);
    expect(told.error).toMatch(message);
    expect(told.out).toBe("");
  });

  test("a rate for two crops takes the second yield", async () => {
    const words = ["need", "--guide", "iowa-2013", "--crop", "corn-soybean-two-year", "--yield", "180"];
    const k = ["--k", "180", "--k-method", "mehlich-3"];
    const missing = await cli(...words, ...k);
    expect(missing.error).toMatch(/covers two crops; the yield of the second is not given/);
    const told = await cli(...words, ...k, "--second-yield", "55", "--json");
    expect(JSON.parse(told.out).k2o.lbPerAc).toBeCloseTo(180 * 0.22 + 55 * 1.17, 9);
  });

  const rates = checkRows.filter(
    (row) =>
      row.guide === "tri-state-2020" && row.inputs.yield_bu !== undefined && row.inputs.test !== undefined,
  );
  test("the check values have rates of the 2020 guide", () => expect(rates).toHaveLength(14));
  test.each(rates.map((row) => [row.line, row] as const))(
    "line %i of the check values",
    async (_line, row) => {
      const key = row.nutrient === "P2O5" ? "p" : "k";
      const told = await cli(
        ...["need", "--guide", row.guide, "--crop", row.crop, "--yield", row.inputs.yield_bu!],
        ...[`--${key}`, row.inputs.stp_ppm ?? row.inputs.stk_ppm!, `--${key}-method`, "mehlich-3"],
        ...(row.inputs.cec === undefined ? rotation : ["--cec", row.inputs.cec]),
        "--json",
      );
      const got = JSON.parse(told.out)[key === "p" ? "p2o5" : "k2o"];
      expect(got.lbPerAc).toBeCloseTo(Number(row.expected), 9);
    },
  );
});

describe("need --samples", () => {
  const soy = ["need", "--guide", "tri-state-2020", "--crop", "soybean", "--yield", "60", ...rotation];

  test("reads every sample of a lab table, also one without positions; unit and depth are the table's", async () => {
    const path = table(
      "lab.csv",
      "Sample ID,Depth,P Mehlich-3 ICP (ppm),K Mehlich-3 (ppm),CEC (meq/100g)\nA1,0-6in,10,90,12\nA2,0-6in,45,200,12\n",
    );
    const told = await cli(...soy, "--samples", path);
    expect(told.exit).toBe(0);
    // (20 - 10) x 5 + 60 x 0.79; (120 - 90) x 1.6 + 60 x 1.15 + 20.
    expect(told.out).toBe("sample\tlb P2O5/ac\tlb K2O/ac\nA1\t97.4\t137.0\nA2\t0.0\t0.0\n");
    expect(told.error).toMatch(/sampled 6 in\. deep, Tri-State 2020 assumes 8 in\./);
    expect(told.error).not.toMatch(/the test is taken as/);
    const json = JSON.parse((await cli(...soy, "--samples", path, "--json")).out);
    expect(json[0]).toMatchObject({ sample: "A1", line: 2, guide: "tri-state-2020", status: "unconfirmed" });
    expect(json[0].p2o5.steps.length).toBeGreaterThan(1);
  });

  test("asks what the table does not say, and takes the answer", async () => {
    const path = table("bare.csv", "Sample ID,P ppm,K ppm,CEC\nA1,10,90,12\n");
    const asked = await cli(...soy, "--samples", path, "--json");
    expect(asked.exit).toBe(3);
    expect(JSON.parse(asked.out).questions.map((one: { key: string }) => one.key)).toEqual([
      "method.P",
      "method.K",
    ]);
    const answers = ["--answer", "method.P=mehlich-3", "--answer", "method.K=mehlich-3"];
    expect((await cli(...soy, "--samples", path, ...answers)).out).toMatch(/^A1\t97\.4\t137\.0$/m);
  });

  test("takes what was said of a column, as read and new do; a column that is not there is named", async () => {
    const path = table(
      "odd.csv",
      "Sample ID,Depth,Avail. Phos. M3,Exch. Potash M3,C.E.C.\nA1,0-8in,10,90,12\n",
    );
    const is = (heading: string, what: string) => ["--answer", `column:odd.csv:${heading}=${what}`];
    const both = [...is("Avail. Phos. M3", "P ppm"), ...is("Exch. Potash M3", "K ppm")];
    const told = await cli(...soy, "--samples", path, ...both, "--answer", "method.P=mehlich-3");
    expect([told.exit, told.error]).toEqual([0, expect.not.stringContaining("no column")]);
    // As above: (20 - 10) x 5 + 60 x 0.79; (120 - 90) x 1.6 + 60 x 1.15 + 20.
    expect(told.out).toMatch(/^A1\t97\.4\t137\.0$/m);
    const wrong = await cli(...soy, "--samples", path, ...is("Phos", "P ppm"));
    expect([wrong.exit, wrong.error]).toEqual([2, expect.stringContaining("has no column “Phos”")]);
  });

  test("a sample without what the guide needs is left out and named, the others are read", async () => {
    const path = table("gap.csv", "id,P M3 ppm,K M3 ppm,CEC\nA1,10,90,\nA2,10,90,12\n");
    const told = await cli(...soy, "--samples", path);
    expect(told.exit).toBe(0);
    expect(told.out).not.toMatch(/^A1/m);
    expect(told.error).toMatch(/sample A1, line 2: left out, .* by the CEC of the soil; none is given/);
  });

  test("a file that is not there is named", async () => {
    const told = await cli(...soy, "--samples", join(base, "none.csv"));
    expect(told.exit).toBe(2);
    expect(told.error).toMatch(/none\.csv/);
  });
});
